#include "reporting/sketches.h"

#include "reporting/charts/sketch.h"
#include "reporting/page/firing_views.h"

namespace thickset {

std::string tail_sketch(const ReportContext& context, const Tail& tail, const SketchStyle& style) {
  return sketch(view_of(context, tail.check, keyed_rows(context, tail)), style);
}

std::string check_sketch(const ReportContext& context,
                         const Program& program,
                         const CheckResult& result,
                         bool for_controller,
                         const SketchStyle& style) {
  const Controller* const controller = shown_for(context, program, for_controller);
  return sketch(view_of(context, result, keyed_rows(controller, program, 0, result)), style);
}

std::string log_sketch(const ReportContext& context,
                       const LogCheck& check,
                       const SketchStyle& style) {
  return sketch(view_of(context, check), style);
}

std::string rewarm_sketch(const ReportContext& context,
                          const Reanneal& plan,
                          const CheckResult& whole,
                          const SketchStyle& style) {
  return sketch(view_of(context, whole, keyed_rows(&context.controller, plan.whole, 0, whole)),
                style);
}

std::string now_sketch(const ReportContext& context, const Now& now, const SketchStyle& style) {
  const CheckResult way = of_way(context, now);
  FiringView view = view_of(context, now, way);
  view.starts = {{"now", now.so_far.now_s()}};
  return sketch(view, style);
}

}  // namespace thickset
