#include "material/stretch.h"

#include <charconv>
#include <string>
#include <system_error>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace thickset {

Stretch::Stretch(std::string_view text, const Place& place) : text_{text}, place_{place} {
  trim();
}

void Stretch::skip(std::size_t count) {
  place_.column += static_cast<int>(count_characters(text_.substr(0, count)));
  text_.remove_prefix(count);
  trim();
}

Stretch Stretch::take(std::size_t count) {
  const Stretch taken{text_.substr(0, count), place_};
  skip(count);
  return taken;
}

double Stretch::take_number(std::string_view mend) {
  double value = 0.0;
  // from_chars also knows "inf", "nan" and "-1"; a number here is digits and a point.
  if (!text_.empty() && (is_digit(text_.front()) || text_.front() == '.')) {
    const auto [end, error] = std::from_chars(text_.data(), text_.data() + text_.size(), value);
    if (error == std::errc{}) {
      skip(static_cast<std::size_t>(end - text_.data()));
      return value;
    }
    if (error == std::errc::result_out_of_range) {
      refuse("a number too large or too small to compute with", "check the exponent");
    }
  }
  refuse(text_.empty() ? std::string{"a number is missing at the end"}
                       : fmt::format("{} does not begin with a number", in_quotes(text_)),
         mend);
}

void Stretch::refuse(std::string_view what, std::string_view mend) const {
  throw Error{place_, what, mend};
}

void Stretch::trim() {
  const std::string_view inner = trimmed(text_);
  if (!inner.empty()) place_.column += static_cast<int>(inner.data() - text_.data());
  text_ = inner;
}

}  // namespace thickset
