#include "reporting/cautions.h"

namespace thickset {

std::string short_cautions() {
  return "This is an estimate, not a guarantee. Hot kiln, mould and glass burn; glass\n"
         "under stress can burst without warning, even days later: face shield, gloves,\n"
         "sleeves. Fit an independent over-temperature cut-out. Dust, wax and mould fumes\n"
         "harm. Local law, the maker's manual and your insurer rule. `thickset help\n"
         "cautions` prints all of it.\n";
}

std::string cautions_of_warm_glass() {
  return "If you suspect a crack: do not reheat, do not open; stay clear and let it cool\n"
         "closed. After a power cut look to the supply first.\n";
}

std::string whole_cautions() {
  return "This is an estimate, not a guarantee. Hot kiln, mould and glass burn. Glass\n"
         "under stress can burst without warning, even days later: face shield, gloves,\n"
         "sleeves. A firing of days: relays can stick on; use an independent\n"
         "over-temperature cut-out, clear surroundings, an alarm and someone who can stop\n"
         "it. Wiring by a licensed electrician to local code; isolate before reaching in.\n"
         "Plaster-silica, glass dust and fired fibre can carry crystalline silica, old\n"
         "insulation asbestos: wet methods, extraction, fitted respirator, no dry\n"
         "sweeping. Vent wax and mould fumes outdoors. Lead glass: dust, slurry and fume\n"
         "are toxic; not for food or drink. Local law, the maker's manual and your\n"
         "insurer rule.\n" +
         cautions_of_warm_glass();
}

}  // namespace thickset
