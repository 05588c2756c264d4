#pragma once

#include "glass/glass.h"
#include "kiln/kiln.h"
#include "material/mould.h"
#include "reporting/display.h"
#include "schedule/controller.h"
#include "simulation/casting.h"

#include <string>
#include <vector>

namespace thickset {

/// One line a glass: fixed points, expansion, and whether its relaxation is measured or stands in.
std::string glass_table(const std::vector<Glass>& glasses, const Display& display);

/// Two lines a material: what it is, its numbers where glass is held and what they rest on.
std::string mould_table(const std::vector<Mould>& moulds, const Display& display);

/// Everything of one thing, with what each value rests on.
std::string describe(const Glass& glass, const Display& display);
std::string describe(const Casting& casting, const Display& display);
std::string describe(const Mould& mould, const Display& display);
std::string describe(const Kiln& kiln, const Display& display);
std::string describe(const Controller& controller);

}  // namespace thickset
