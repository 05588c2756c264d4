#include "reporting/cautions.h"

namespace thickset {

std::string short_cautions() {
  return "This is an estimate, not a guarantee. Hot kiln, mould and glass burn; glass under\n"
         "stress can burst without warning, even days later: face shield, gloves, sleeves.\n"
         "Fit an independent over-temperature cut-out. Dust, wax and mould fumes harm.\n"
         "Local law, the maker's manual and your insurer rule. `thickset help cautions`\n"
         "prints all of it.\n";
}

std::string whole_cautions() {
  return "This is an estimate, not a guarantee. Hot kiln, mould and glass burn. Glass under\n"
         "stress can burst without warning, even days later: face shield, gloves, sleeves.\n"
         "A firing of days: relays can stick on; use an independent over-temperature\n"
         "cut-out, clear surroundings, an alarm and someone who can stop it. Wiring by a\n"
         "licensed electrician to local code; isolate before reaching in. Plaster-silica,\n"
         "glass dust and fired fibre can carry crystalline silica, old insulation asbestos:\n"
         "wet methods, extraction, fitted respirator, no dry sweeping. Vent wax and mould\n"
         "fumes outdoors. Lead glass: dust, slurry and fume are toxic; not for food or\n"
         "drink. Local law, the maker's manual and your insurer rule.\n";
}

}  // namespace thickset
