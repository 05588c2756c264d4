#include "kiln/kiln_from_log.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "kiln/kiln.h"
#include "message_of.h"

using namespace thickset;

namespace {

const Temperature room = Temperature::from_C(20.0);

FiringLog log_of(double every_min, double hours, double (*T_C_at)(double hours)) {
  FiringLog log;
  log.source = "a.csv";
  log.sensor = "air_C";
  int line = 2;
  for (double t_min = 0.0; t_min <= 60.0 * hours; t_min += every_min) {
    log.time_s.push_back(60.0 * t_min);
    log.T_K.push_back(273.15 + T_C_at(t_min / 60.0));
    log.line.push_back(line++);
  }
  return log;
}

double newton_C(double hours) {
  return 20.0 + 540.0 * std::exp(-hours / 4.0);
}
double held_first_C(double hours) {
  return hours < 2.0 ? 560.0 : newton_C(hours - 2.0);
}
double programmed_C(double hours) {
  return hours < 10.0 ? 560.0 - 10.0 * hours : 460.0 - 40.0 * (hours - 10.0);
}

KilnFromLog learnt(const FiringLog& log, const std::optional<LogPart>& part = std::nullopt) {
  return kiln_from_log(log, std::nullopt, room, part, Degrees::celsius, {.source = "a.csv"});
}

bool doubts(const KilnFromLog& found, const std::string& words) {
  for (const std::string& doubt : found.doubts) {
    if (doubt.find(words) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("kiln from a log: Newton's cooling within 1 %, of the whole or of a part that is named") {
  const KilnFromLog whole = learnt(log_of(5.0, 14.0, newton_C));
  CHECK(whole.doubts.empty());
  CHECK(whole.fit.one_constant_s == doctest::Approx(4.0 * 3600.0).epsilon(0.01));
  const FiringLog held = log_of(5.0, 16.0, held_first_C);
  const KilnFromLog part = learnt(held, LogPart{2.0 * 3600.0, 12.0 * 3600.0});
  CHECK(part.readings == 121);
  CHECK(part.fit.one_constant_s == doctest::Approx(4.0 * 3600.0).epsilon(0.01));
}

TEST_CASE("kiln from a log: a program's straight fall is doubted, the kiln's own is not") {
  const KilnFromLog programmed = learnt(log_of(5.0, 18.0, programmed_C));
  CHECK(doubts(programmed, "in a straight line from 560 °C to 460 °C"));
  CHECK(doubts(programmed, "falls faster at"));
  CHECK(!doubts(learnt(log_of(5.0, 14.0, newton_C)), "straight line"));
  CHECK(!doubts(learnt(log_of(5.0, 14.0, newton_C)), "falls faster at"));
  // Read by hand once an hour every fall is straight between two readings.
  CHECK(learnt(log_of(60.0, 14.0, newton_C)).doubts.empty());
  CHECK(doubts(learnt(log_of(60.0, 18.0, programmed_C)), "straight line from 560 °C to 460 °C"));
}

TEST_CASE("kiln from a log: a second sensor of the same rows gives lag and offset") {
  const FiringLog log = log_of(5.0, 14.0, programmed_C);
  FiringLog mould = log;
  mould.sensor = "mould_C";
  double follows_K = log.T_K.front();
  for (std::size_t i = 1; i < log.T_K.size(); ++i) {
    // Behind a ramp a load of one time constant: exact for straight lines.
    const double x = (log.time_s[i] - log.time_s[i - 1]) / 1800.0;
    const double slope = (log.T_K[i] - log.T_K[i - 1]) / x;
    follows_K = log.T_K[i] - slope + (follows_K - log.T_K[i - 1] + slope) * std::exp(-x);
    mould.T_K[i] = follows_K + 6.0;
  }
  mould.T_K[0] += 6.0;
  mould.time_s.erase(mould.time_s.begin() + 20);  // a reading that the other has
  mould.T_K.erase(mould.T_K.begin() + 20);
  mould.line.erase(mould.line.begin() + 20);
  const KilnFromLog found =
      kiln_from_log(log, mould, room, std::nullopt, Degrees::celsius, {.source = "a.csv"});
  REQUIRE(found.second);
  CHECK(found.second->lag_s == doctest::Approx(1800.0).epsilon(0.01));
  CHECK(found.second->offset_K == doctest::Approx(6.0).epsilon(0.01));
}

TEST_CASE("kiln from a log: a part without a fall is refused with what would do") {
  const FiringLog held = log_of(5.0, 16.0, held_first_C);
  const std::string message = message_of([&] { learnt(held, LogPart{0.0, 3600.0}); });
  CHECK(message.find("a.csv: the kiln fell by 0 K only") != std::string::npos);
}
