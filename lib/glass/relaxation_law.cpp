#include "glass/relaxation_law.h"

namespace thickset {

const char* name_of(Bulk bulk) {
  switch (bulk) {
    case Bulk::relaxing: return "relaxing bulk";
    case Bulk::elastic: return "elastic bulk";
    case Bulk::constant_ratio: return "constant Poisson ratio";
  }
  return "";
}

}  // namespace thickset
