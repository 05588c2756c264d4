#include "reporting/history_csv.h"

#include <fmt/format.h>

#include "units/temperature.h"

namespace thickset {
namespace {

double in_C(double T_K) {
  return T_K - Temperature::zero_C_in_K;
}

}  // namespace

std::string trace_csv(const History& history) {
  std::string text =
      "hours,kiln_C,surface_C,centre_C,mean_C,difference_K,surface_stress_MPa,centre_stress_MPa,"
      "largest_tension_MPa,surface_fictive_C,centre_fictive_C\n";
  for (const History::Row& row : history.rows) {
    text += fmt::format(
        "{:.6f},{:.3f},{:.3f},{:.3f},{:.3f},{:.4f},{:.5f},{:.5f},{:.5f},{:.3f},{:.3f}\n",
        row.time_s / 3600.0,
        in_C(row.kiln_K),
        in_C(row.surface_K),
        in_C(row.centre_K),
        in_C(row.mean_K),
        row.centre_K - row.surface_K,
        row.surface_Pa * 1e-6,
        row.centre_Pa * 1e-6,
        row.tension_Pa * 1e-6,
        in_C(row.surface_fictive_K),
        in_C(row.centre_fictive_K));
  }
  return text;
}

std::string profile_csv(const History::Profile& profile) {
  std::string text = "from_centre_mm,stress_MPa,fictive_C\n";
  for (std::size_t i = 0; i < profile.position_m.size(); ++i) {
    text += fmt::format("{:.4f},{:.5f},{:.3f}\n",
                        profile.position_m[i] * 1e3,
                        profile.stress_Pa[i] * 1e-6,
                        in_C(profile.fictive_K[i]));
  }
  return text;
}

}  // namespace thickset
