#include "glass/relaxation_law.h"

namespace thickset {

const char* name_of(Bulk bulk) {
  switch (bulk) {
    case Bulk::relaxing: return "relaxing";
    case Bulk::elastic: return "elastic";
    case Bulk::constant_ratio: return "constant-ratio";
  }
  return "";
}

}  // namespace thickset
