#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text_file.h"
#include "checking/check.h"
#include "checking/check_log.h"
#include "commands.h"
#include "how_sure.h"
#include "inputs.h"
#include "progress_line.h"
#include "reporting/firing_record.h"
#include "reporting/how_sure_section.h"
#include "sampling/one_at_a_time.h"
#include "sampling/sample_file.h"
#include "schedule/notation.h"
#include "schedule/read_log.h"

namespace thickset::cli {
namespace {

/// A course as it was given, under the treatment of the bulk to sample with.
struct GivenCourse {
  KilnCourse course;
  Bulk bulk;
  bool begins_cold = false;
};

GivenCourse course_of_log(const Options& options,
                          const Casting& casting,
                          const Kiln& kiln,
                          const InputText& input,
                          const Progress& progress) {
  const FiringLog log = parse_log(input.text, input.source, options.sensor.value_or(""), progress);
  const LogCheck checked = thickset::check_log(casting,
                                               kiln,
                                               Controller::LateOnCooling::waits,
                                               log,
                                               std::nullopt,
                                               options.firing,
                                               options.limits,
                                               false,
                                               log.degrees,
                                               bulks_held_to(options),
                                               progress);
  if (checked.begins_late) {
    throw Error{{.source = input.source},
                "never comes up to the strain point, so what was set before it is not in it",
                "give a log that begins with the hold"};
  }
  return {with_few_corners(checked.run.course),
          middle_treatment(checked.result.treatments),
          checked.run.begins_cold};
}

GivenCourse course_of_program(const Options& options,
                              const Casting& casting,
                              const Kiln& kiln,
                              const InputText& input) {
  if (options.sensor) {
    throw Error{
        option("sensor"), fmt::format("{} is a program, not a log", input.source), "leave it out"};
  }
  const Program program = parse_program(input.text, input.source);
  const CheckResult result = thickset::check(casting,
                                             kiln,
                                             load_controller(options).late_on_cooling,
                                             program,
                                             options.firing,
                                             options.limits,
                                             false,
                                             program.degrees,
                                             bulks_held_to(options));
  return {course_of(result.measured, start_of(program, options.firing)),
          middle_treatment(result.treatments)};
}

ExitStatus report(const Options& options, const HowSure& sure, const std::vector<AtItsEnds>& ends) {
  const double wanted = options.sure.confidence;
  switch (options.format) {
    case Format::text: {
      std::string text = how_sure_text(
          sure, wanted, {options.degrees.value_or(Degrees::celsius), options.lengths});
      if (!ends.empty()) text += '\n' + one_at_a_time_section(sure.study, ends);
      deliver(options, text);
      break;
    }
    case Format::csv: deliver(options, how_sure_csv(sure)); break;
    case Format::keys:
      deliver(options, how_sure_keys(sure, wanted) + how_sure_share_keys(sure));
      break;
  }
  return std::min(sure.residual.share(), sure.tension.share()) >= wanted ? fine : over_a_limit;
}

ExitStatus gather(const Options& options) {
  const auto& names = options.sure.parts;
  require("out",
          !options.out || std::find(names.begin(), names.end(), *options.out) == names.end(),
          "it is one of the parts",
          "name another file");
  std::vector<StudyPart> parts;
  for (const std::string& name : options.sure.parts) {
    parts.push_back(read_samples(read_text_file(name), name));
  }
  const StudyPart whole = gathered(parts);
  return report(options, how_sure(whole.study, whole.samples), {});
}

}  // namespace

ExitStatus sure(const Options& options) {
  if (options.sure.gather) return gather(options);
  require("out",
          !options.out || *options.out != options.program,
          "it is what is sampled",
          "name another file");
  const InputText input = read_input(options.program);
  if (looks_like_record(input.text)) {
    throw Error{{.source = input.source},
                "is a record of a firing, not a program or a log",
                "`thickset check` computes it again, and says how sure it is"};
  }
  const Casting casting = load_casting(options);
  const Kiln kiln = load_kiln(options);
  std::optional<ProgressLine> line{std::in_place, stderr, is_terminal(stderr)};
  const Progress progress = [&](const std::string& what) { line->say(what); };
  const GivenCourse given = looks_like_log(input.text)
                                ? course_of_log(options, casting, kiln, input, progress)
                                : course_of_program(options, casting, kiln, input);
  const CourseToSample what{.casting = casting,
                            .kiln = kiln,
                            .course = given.course,
                            .bulk = given.bulk,
                            .begins_cold = given.begins_cold};
  const Study study = study_of(what,
                               options.limits,
                               study_title(casting, kiln, input.source, options.lengths),
                               options.sure.samples);
  const SampleRange range =
      options.sure.slice
          ? slice_of(study.samples, options.sure.slice->first, options.sure.slice->second)
          : SampleRange{0, study.samples};
  const std::vector<Sample> samples =
      sample_course(what,
                    study.inputs,
                    range,
                    {.threads = options.sure.threads, .progress = [&](std::uint64_t done) {
                       progress(fmt::format("{} of {} castings", done, range.count()));
                     }});
  std::vector<AtItsEnds> ends;
  if (options.explain) ends = one_at_a_time(what, study.inputs);
  line.reset();
  if (options.sure.slice) {
    write_text_file(*options.out, write_samples(study, samples));
    return fine;
  }
  return report(options, how_sure(study, samples), ends);
}

}  // namespace thickset::cli
