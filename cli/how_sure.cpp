#include "how_sure.h"

#include <fmt/format.h>

#include "reporting/walls_section.h"

namespace thickset::cli {

std::string study_title(const Casting& casting,
                        const Kiln& kiln,
                        const std::string& course,
                        Lengths lengths) {
  return fmt::format("{}{}; {}; {}; kiln: {}",
                     describe(casting.shape, lengths),
                     with_walls(casting, lengths),
                     casting.glass.title,
                     course,
                     kiln.title);
}

void add_how_sure(const Options& options,
                  const Casting& casting,
                  const CheckResult& result,
                  const KilnCourse& course,
                  const std::string& name,
                  ReportContext& context,
                  bool begins_cold) {
  context.confidence = options.sure.confidence;
  const bool shown = options.format != Format::csv && !options.card;
  if (options.sure.off || !(shown || options.pictures.page)) return;
  context.how_sure = sampled({.casting = casting,
                              .kiln = context.kiln,
                              .course = course,
                              .bulk = middle_treatment(result.treatments),
                              .begins_cold = begins_cold},
                             context.limits,
                             study_title(casting, context.kiln, name, options.lengths),
                             samples_of_short_lines,
                             {.threads = options.sure.threads});
}

}  // namespace thickset::cli
