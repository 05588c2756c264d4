#pragma once

#include <string>

namespace thickset {

/// How a page looks: on phones and wide screens, on light and dark ground, on paper. CSS; the
/// charts have their own.
std::string page_style();

}  // namespace thickset
