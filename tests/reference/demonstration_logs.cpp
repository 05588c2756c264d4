// The demonstration logs in data/logs: three firings of the 50 mm slab of data/castings by
// data/programs/slab-50-gentle.csv, on the middling brick kiln. They are inventions of this
// project: the kiln's simulated course, and on it what a control loop and a sensor add.
//
//   slab-50-good.csv       a logger every five minutes; all goes by the plan
//   slab-50-power-cut.csv  a logger every two minutes, without power itself for 75 min in the first
//                          stage; after that the controller drives the kiln back to its program
//   slab-50-too-fast.csv   by hand, whole degrees: the first stage at 45 C/h instead of 7
//
// Build: cmake --build build --target demonstration_logs   (not part of the default build)
// Use:   build/tests/demonstration_logs data

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <numbers>
#include <string>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text_file.h"
#include "kiln/follow.h"
#include "schedule/notation.h"

namespace {

using namespace thickset;

/// Normal to the eye: twelve even numbers of a fixed stream, the same on every machine.
class Noise {
 public:
  double next() {
    double sum = -6.0;
    for (int i = 0; i < 12; ++i) {
      state_ ^= state_ << 13;
      state_ ^= state_ >> 7;
      state_ ^= state_ << 17;
      sum += static_cast<double>(state_ >> 11) * 0x1p-53;
    }
    return sum;
  }

 private:
  std::uint64_t state_ = 0x9E3779B97F4A7C15u;
};

AirCurve run(const Kiln& kiln, const Program& program, double from_C) {
  return follow(program, kiln, Controller::LateOnCooling::waits, Temperature::from_C(from_C)).air;
}

double in_C(double T_K) {
  return Temperature::from_K(T_K).in_C();
}

/// What the control loop adds while the kiln is hot: a degree up and down.
double ripple_K(double time_s, double T_C) {
  constexpr double period_s = 780.0;
  return T_C > 100.0 ? 0.8 * std::sin(2.0 * std::numbers::pi * time_s / period_s) : 0.0;
}

std::string date_and_time(double time_s, char between) {
  namespace chrono = std::chrono;
  const auto start = chrono::local_days{chrono::year{2026} / 11 / 27} + chrono::hours{18};
  const auto now = start + chrono::minutes{std::llround(time_s / 60.0)};
  const auto day = chrono::floor<chrono::days>(now);
  const chrono::year_month_day date{day};
  const chrono::hh_mm_ss time{now - day};
  return fmt::format("{:04}-{:02}-{:02}{}{:02}:{:02}",
                     static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()),
                     between,
                     time.hours().count(),
                     time.minutes().count());
}

std::string good(const Kiln& kiln, const Program& program) {
  const AirCurve air = run(kiln, program, 800.0);
  Noise noise;
  std::string text =
      "# Demonstration: an invented firing of a 50 mm slab that went by its plan,\n"
      "# programs/slab-50-gentle.csv; made by tests/reference/demonstration_logs.cpp.\n"
      "time,air_C,second_C\n";
  for (double time_s = 0.0; time_s <= air.end_s(); time_s += 300.0) {
    const double T_C = in_C(air.at_K(time_s));
    const double loop_K = ripple_K(time_s, T_C);
    text += fmt::format("{},{:.1f},{:.1f}\n",
                        date_and_time(time_s, 'T'),
                        T_C + loop_K + 0.3 * noise.next(),
                        T_C + loop_K + 2.1 + 0.3 * noise.next());
  }
  return text;
}

std::string power_cut(const Kiln& kiln, const Program& program) {
  constexpr double cut_s = 11.0 * 3600.0;
  constexpr double out_s = 75.0 * 60.0;
  const AirCurve planned = run(kiln, program, 800.0);
  const double cut_K = planned.at_K(cut_s);
  const auto fallen_K = [&](double after_s) {
    return kiln.natural_cooling.after(Temperature::from_K(cut_K), seconds(after_s)).in_K();
  };
  const double low_K = fallen_K(out_s);
  Noise noise;
  std::string text =
      "# Demonstration: an invented firing of a 50 mm slab with a power cut in its first stage;\n"
      "# made by tests/reference/demonstration_logs.cpp.\n"
      "date;clock;air_C;note\n";
  for (double time_s = 0.0; time_s <= planned.end_s(); time_s += 120.0) {
    if (time_s > cut_s && time_s < cut_s + out_s) continue;
    double T_K = planned.at_K(time_s);
    if (time_s >= cut_s + out_s) {
      const double back_s = time_s - cut_s - out_s;
      T_K = std::min(T_K, low_K + kiln.fastest_heating.in_K_per_s() * back_s);
    }
    const bool back = time_s >= cut_s + out_s && time_s < cut_s + out_s + 120.0;
    std::string row = fmt::format("{};{:.1f};{}\n",
                                  date_and_time(time_s, ';'),
                                  in_C(T_K) + ripple_K(time_s, in_C(T_K)) + 0.3 * noise.next(),
                                  back ? "power back" : "");
    // A logger of a country that writes decimals with a comma.
    std::replace(row.begin(), row.end(), '.', ',');
    text += row;
  }
  return text;
}

std::string too_fast(const Kiln& kiln, Program program) {
  program.steps[1].pace = Rate::from_K_per_h(45.0);
  const AirCurve air = run(kiln, program, 800.0);
  Noise noise;
  std::string text =
      "# Demonstration: an invented firing of a 50 mm slab whose first stage was keyed as 45 C/h\n"
      "# instead of 7, kept by hand; made by tests/reference/demonstration_logs.cpp.\n"
      "clock,air_C,note\n";
  double time_s = 0.0;
  while (time_s <= air.end_s()) {
    const double T_C = in_C(air.at_K(time_s));
    text += fmt::format("{},{:.0f},{}\n",
                        date_and_time(time_s, ' ').substr(11),
                        T_C + ripple_K(time_s, T_C) + 0.3 * noise.next(),
                        time_s == 0.0 ? "\"elements off, peep shut\"" : "");
    time_s += T_C > 300.0 ? 1800.0 : 3600.0;
  }
  return text;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    fmt::print(stderr, "usage: demonstration_logs DATA_FOLDER\n");
    return 2;
  }
  try {
    const std::string data = argv[1];
    const Kiln kiln = read_kiln(data + "/kilns/middling-brick.kiln");
    const Program program = read_program(data + "/programs/slab-50-gentle.csv");
    write_text_file(data + "/logs/slab-50-good.csv", good(kiln, program));
    write_text_file(data + "/logs/slab-50-power-cut.csv", power_cut(kiln, program));
    write_text_file(data + "/logs/slab-50-too-fast.csv", too_fast(kiln, program));
  } catch (const Error& error) {
    fmt::print(stderr, "{}\n", error.what());
    return 2;
  }
  return 0;
}
