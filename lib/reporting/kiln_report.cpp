#include "reporting/kiln_report.h"

#include <cmath>
#include <sstream>

#include <fmt/format.h>

#include "reporting/cautions.h"

namespace thickset {
namespace {

std::string hours_and_minutes(double time_s) {
  return show(seconds(time_s));
}

std::string range(const KilnReport& report) {
  const CoolingFit& fit = report.found.fit;
  return fmt::format("{} readings from {} to {}, {} to {} after the first",
                     report.found.readings,
                     show(fit.from, report.display),
                     show(fit.to, report.display),
                     hours_and_minutes(report.found.part.from_s),
                     hours_and_minutes(report.found.part.to_s));
}

std::string quality(const KilnReport& report) {
  const CoolingFit& fit = report.found.fit;
  const auto difference = [&](double K) {
    return show_difference(TemperatureDifference::from_K(K), report.display);
  };
  std::string text = fmt::format(
      "The fall fitted differs from the readings by {} in the mean (root of squares), {} at most.",
      difference(fit.rms_K),
      difference(fit.largest_K));
  if (fit.cooling.points().size() > 1) {
    text += fmt::format(
        " One time constant alone, {}, would differ by {}: this kiln is not one "
        "number.",
        hours_and_minutes(fit.one_constant_s),
        difference(fit.rms_of_one_constant_K));
  } else if (fit.rms_K > poor_rms_K) {
    text += fmt::format(
        " One time constant, {}, does not describe this fall, and for more there are too few "
        "readings: log it again, every few minutes while it is hot.",
        hours_and_minutes(fit.one_constant_s));
  } else {
    text += fmt::format(" One time constant is enough: {}.", hours_and_minutes(fit.one_constant_s));
  }
  return text;
}

std::string about_second(const KilnReport& report) {
  const std::optional<SecondSensor>& second = report.found.second;
  if (!second) {
    return "No second sensor: how far a load lags behind this one is not known, nor whether this "
           "one reads true.";
  }
  const auto difference = [&](double K) {
    return show_difference(TemperatureDifference::from_K(std::abs(K)), report.display);
  };
  return fmt::format(
      "{} follows it {} later (+-{}) and shows {} {} (+-{}) when even; the two differed by {} at "
      "most. As one lag and one offset this fits within {}. {}",
      report.second_sensor,
      hours_and_minutes(second->lag_s),
      hours_and_minutes(second->lag_doubt_s),
      difference(second->offset_K),
      second->offset_K >= 0.0 ? "more" : "less",
      difference(second->offset_doubt_K),
      difference(second->largest_difference_K),
      difference(second->rms_K),
      beside_the_first(*second)
          ? "Which of the two reads true this does not say: compare both with a third, and key "
            "targets corrected by what yours is off. The kiln file counts it as a reading that "
            "may be off by as much, where that is more than a thermocouple's tolerance."
          : "It follows too late to be in the same air: what it shows is the load, and its offset "
            "tells nothing about the first.");
}

/// Two digits of what is below ten, whole numbers from there on; never with an exponent.
std::string two_digits(double value) {
  return std::abs(value) < 9.95 ? fmt::format("{:.2g}", value) : fmt::format("{:.0f}", value);
}

/// "0.4 %", "3 %", "20 %", "> 100 %".
std::string percent_of_rate(double value) {
  if (value > 100.0) return "> 100 %";
  return value < 0.95 ? fmt::format("{:.1g} %", value) : fmt::format("{:.0f} %", value);
}

std::string four_digits(double value) {
  return std::abs(value) < 999.5 ? fmt::format("{:.4g}", value) : fmt::format("{:.0f}", value);
}

/// The doubts as comments of a file.
std::string doubt_comments(const std::vector<std::string>& doubts) {
  std::string text;
  for (const std::string& doubt : doubts) {
    std::istringstream lines{wrapped("DOUBTFUL: " + doubt, 76)};
    for (std::string line; std::getline(lines, line);) text += "# " + line + '\n';
  }
  return text;
}

}  // namespace

std::string kiln_file(const KilnReport& report) {
  const CoolingFit& fit = report.found.fit;
  std::string points;
  for (auto point = fit.cooling.points().rbegin(); point != fit.cooling.points().rend(); ++point) {
    points += fmt::format("{}{} C {} C/h",
                          points.empty() ? "" : ", ",
                          four_digits(point->temperature.in_C()),
                          four_digits(point->rate.in_K_per_h()));
  }
  std::string text = fmt::format(
      "# Fitted to a log of the kiln falling by itself, elements off: {} readings\n# of {}.\n"
      "# Within {} C of them in the mean, {} C at most. Another load falls\n# otherwise.\n{}"
      "title = fitted to a log of its own fall{}\n"
      "natural_cooling = {}\n"
      "room = {:.3g} C\n"
      "known_from = {:.0f} C\n"
      "known_to = {:.0f} C\n",
      report.found.readings,
      report.log.sensor,
      two_digits(fit.rms_K),
      two_digits(fit.largest_K),
      doubt_comments(report.found.doubts),
      report.found.doubts.empty() ? "" : ", doubtful",
      points,
      report.room.in_C(),
      fit.from.in_C(),
      fit.to.in_C());
  const auto& second = report.found.second;
  if (second && beside_the_first(*second)) {
    // As far as they may: twice the standard error.
    text += fmt::format("sensors_differ = {:.1f} C\n",
                        std::abs(second->offset_K) + 2.0 * second->offset_doubt_K);
  }
  return text;
}

std::string kiln_text(const KilnReport& report, const std::string& written_to) {
  const CoolingFit& fit = report.found.fit;
  std::string text =
      written_to.empty()
          ? std::string{"The kiln's own fall, as this log shows it:\n"}
          : wrapped(fmt::format("Written to {}: use it with --kiln {}", written_to, written_to)) +
                "\n\nThe kiln's own fall:\n";
  if (!report.found.doubts.empty()) {
    text =
        wrapped(fmt::format("Doubtful, for the reasons below: {} may not be the kiln's own fall.",
                            written_to.empty() ? "this and the file at the end"
                                               : "what was written to " + written_to)) +
        '\n' + text;
  }
  text += fmt::format("{:>10} {:>12} {:>10} {:>16}\n", "at", "falls by", "+-", "time constant");
  for (std::size_t i = fit.cooling.points().size(); i-- > 0;) {
    const NaturalCooling::Point& point = fit.cooling.points()[i];
    const double constant_s = (point.temperature - report.room).in_K() / point.rate.in_K_per_s();
    text += fmt::format("{:>10} {:>12} {:>10} {:>16}\n",
                        show(point.temperature, report.display),
                        show(point.rate, report.display),
                        percent_of_rate(100.0 * fit.doubt[i]),
                        hours_and_minutes(constant_s));
  }
  if (!report.log.remarks.empty()) {
    text += "\nIn the log:\n";
    std::vector<std::string> lines;
    for (const LogRemark& remark : report.log.remarks) lines.push_back(remark.text);
    text += listed(lines);
  }
  text += '\n' +
          wrapped(fmt::format("Taken: {}; room {}. It counts as the kiln's own only if the "
                              "elements were off and the lid closed all that time.",
                              range(report),
                              show(report.room, report.display))) +
          '\n';
  text += wrapped(quality(report)) + '\n';
  text +=
      wrapped(fmt::format("Beyond {} and {} the fall is continued in proportion to the distance "
                          "from the room, not known. A larger load falls more slowly.",
                          show(fit.from, report.display),
                          show(fit.to, report.display))) +
      '\n';
  text += wrapped(about_second(report)) + '\n';
  if (!report.found.doubts.empty()) text += "\nDoubtful:\n" + listed(report.found.doubts);
  if (written_to.empty())
    text += "\nAs a .kiln file (--out FILE.kiln writes it):\n\n" + kiln_file(report);
  return text + '\n' + short_cautions();
}

std::string kiln_keys(const KilnReport& report) {
  const CoolingFit& fit = report.found.fit;
  std::string text = fmt::format("readings = {}\n", report.found.readings);
  for (std::size_t i = 0; i < fit.cooling.points().size(); ++i) {
    const NaturalCooling::Point& point = fit.cooling.points()[i];
    text += fmt::format("point_{}_C = {:.6g}\n", i + 1, point.temperature.in_C());
    text += fmt::format("point_{}_rate_C_per_h = {:.6g}\n", i + 1, point.rate.in_K_per_h());
    text += fmt::format("point_{}_doubt_percent = {:.3g}\n", i + 1, 100.0 * fit.doubt[i]);
  }
  text += fmt::format("fit_rms_C = {:.4g}\n", fit.rms_K);
  text += fmt::format("fit_largest_C = {:.4g}\n", fit.largest_K);
  text += fmt::format("one_time_constant_h = {:.6g}\n", fit.one_constant_s / 3600.0);
  text += fmt::format("one_time_constant_rms_C = {:.4g}\n", fit.rms_of_one_constant_K);
  text +=
      fmt::format("known_from_C = {:.6g}\nknown_to_C = {:.6g}\n", fit.from.in_C(), fit.to.in_C());
  if (const auto& second = report.found.second) {
    text += fmt::format("second_lag_min = {:.6g}\n", second->lag_s / 60.0);
    text += fmt::format("second_offset_C = {:.4g}\n", second->offset_K);
  }
  return text + fmt::format("doubtful = {}\n", report.found.doubts.empty() ? "no" : "yes");
}

}  // namespace thickset
