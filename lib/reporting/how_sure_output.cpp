#include <fmt/format.h>

#include "reporting/how_sure_section.h"

namespace thickset {

std::string how_sure_keys(const HowSure& sure, double wanted) {
  const std::size_t first = sure.ranked().front();
  return fmt::format(
      "confidence_asked = {:.6g}\n"
      "samples = {}\n"
      "sampled_bulk = {}\n"
      "chance_within_limits = {:.6g}\n"
      "chance_standard_error = {:.3g}\n"
      "chance_within_grade = {:.6g}\n"
      "chance_within_tension = {:.6g}\n"
      "chance_hold_relaxes = {:.6g}\n"
      "retardation_5_percent_nm_per_cm = {:.6g}\n"
      "retardation_50_percent_nm_per_cm = {:.6g}\n"
      "retardation_95_percent_nm_per_cm = {:.6g}\n"
      "tension_5_percent_MPa = {:.6g}\n"
      "tension_50_percent_MPa = {:.6g}\n"
      "tension_95_percent_MPa = {:.6g}\n"
      "matters_most = {}\n"
      "matters_most_share = {:.4g}\n",
      wanted,
      sure.both.of,
      name_of(sure.study.bulk),
      sure.both.share(),
      sure.both.standard_error(),
      sure.residual.share(),
      sure.tension.share(),
      sure.relaxes.share(),
      sure.residual_nm_per_cm.low,
      sure.residual_nm_per_cm.middle,
      sure.residual_nm_per_cm.high,
      sure.tension_MPa.low,
      sure.tension_MPa.middle,
      sure.tension_MPa.high,
      key_of(sure.study.inputs[first].what),
      sure.of_decisive().total[first]);
}

std::string how_sure_share_keys(const HowSure& sure) {
  std::string text;
  for (std::size_t i = 0; i < sure.study.inputs.size(); ++i) {
    const char* const key = key_of(sure.study.inputs[i].what);
    text +=
        fmt::format("{}_range = {}\n", key, in_one_scale(sure.study.inputs[i].range, Display{}));
    text += fmt::format("{}_range_from = {}\n", key, sure.study.inputs[i].from);
    text +=
        fmt::format("{}_retardation_first_order = {:.4g}\n", key, sure.of_residual.first_order[i]);
    text += fmt::format("{}_retardation_total = {:.4g}\n", key, sure.of_residual.total[i]);
    text += fmt::format("{}_tension_first_order = {:.4g}\n", key, sure.of_tension.first_order[i]);
    text += fmt::format("{}_tension_total = {:.4g}\n", key, sure.of_tension.total[i]);
  }
  text += fmt::format("retardation_not_explained = {:.4g}\n", sure.of_residual.unexplained);
  return text + fmt::format("tension_not_explained = {:.4g}\n", sure.of_tension.unexplained);
}

std::string how_sure_csv(const HowSure& sure) {
  std::string text =
      "input,range,from,retardation_first_order,retardation_total,tension_first_order,"
      "tension_total\n";
  for (const std::size_t i : sure.ranked()) {
    const UncertainInput& input = sure.study.inputs[i];
    text += fmt::format("{},\"{}\",\"{}\",{:.6g},{:.6g},{:.6g},{:.6g}\n",
                        key_of(input.what),
                        in_one_scale(input.range, Display{}),
                        input.from,
                        sure.of_residual.first_order[i],
                        sure.of_residual.total[i],
                        sure.of_tension.first_order[i],
                        sure.of_tension.total[i]);
  }
  return text;
}

std::string how_sure_keys(const ReportContext& context) {
  if (!context.how_sure) return {};
  std::string text = how_sure_keys(*context.how_sure, context.confidence);
  if (!context.for_confidence) return text;
  return text + fmt::format(
                    "confidence_reached = {}\n"
                    "aimed_at_nm_per_cm = {:.6g}\n"
                    "aimed_at_MPa = {:.6g}\n",
                    context.for_confidence->reached ? "yes" : "no",
                    context.for_confidence->aimed_at.grade.in_nm_per_cm(),
                    context.for_confidence->aimed_at.tension.in_MPa());
}

}  // namespace thickset
