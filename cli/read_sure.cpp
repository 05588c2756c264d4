#include "read_sure.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "sampling/how_sure.h"
#include "units/read_quantity.h"

namespace thickset::cli {
namespace {

constexpr double least_confidence = 0.5;
constexpr double most_confidence = 0.999;
constexpr int most_threads = 1024;
constexpr int most_slices = 1'000'000;

void read_confidence(const Typed& typed, SureOptions& sure) {
  if (typed.text("confidence") == "off") {
    sure.off = true;
    return;
  }
  const auto confidence = typed.value("confidence", read_number);
  if (!confidence) return;
  require(
      "confidence",
      *confidence >= least_confidence && *confidence <= most_confidence,
      fmt::format("{:g} is outside {:g} to {:g}", *confidence, least_confidence, most_confidence),
      *confidence >= 100.0 * least_confidence && *confidence <= 100.0 * most_confidence
          ? fmt::format("write it as a share: {:g}", 0.01 * *confidence)
          : "write the share that is to stay within each limit: 0.95; or off");
  sure.confidence = *confidence;
  sure.asked = true;
}

int read_count(const Typed& typed, const char* name, int least, int most, const char* mend) {
  const int count = *typed.value(name, read_whole_number);
  require(name,
          count >= least && count <= most,
          fmt::format("{} is outside {} to {}", count, least, most),
          mend);
  return count;
}

/// "3/40".
std::pair<std::uint64_t, std::uint64_t> read_slice(const std::string& text, const Place& place) {
  const std::size_t stroke = text.find('/');
  if (stroke == std::string::npos) {
    throw Error{place,
                fmt::format("{} is no part of a number of parts", in_quotes(text)),
                "write for example 3/40, the third of forty parts"};
  }
  const int part = read_whole_number(text.substr(0, stroke), place);
  const int parts = read_whole_number(text.substr(stroke + 1), place);
  if (!(part >= 1 && part <= parts && parts <= most_slices)) {
    throw Error{place,
                fmt::format("there is no part {} of {}", part, parts),
                fmt::format("count parts from 1, up to {} of them", most_slices)};
  }
  return {static_cast<std::uint64_t>(part), static_cast<std::uint64_t>(parts)};
}

}  // namespace

bool takes_how_sure(Command command) {
  return command == Command::tail || command == Command::check || command == Command::sure;
}

void read_how_sure(const Typed& typed, Options& options) {
  SureOptions& sure = options.sure;
  read_confidence(typed, sure);
  if (typed.has("threads")) {
    sure.threads = static_cast<unsigned>(
        read_count(typed, "threads", 1, most_threads, "write how many processors may be used"));
  }
  if (options.command != Command::sure) return;
  require("confidence", !sure.off, "sure is about nothing else", "write a share such as 0.95");
  sure.gather = typed.has("gather");
  if (typed.has("samples")) {
    sure.samples = static_cast<std::uint64_t>(
        read_count(typed,
                   "samples",
                   static_cast<int>(fewest_samples),
                   static_cast<int>(most_samples),
                   "1024 tell a chance of 90 of 100 to about 1; powers of two spread best"));
  }
  if (const auto slice = typed.value("slice", read_slice)) {
    require("slice",
            slice->second <= sure.samples,
            fmt::format("{} parts of {} samples leave some empty", slice->second, sure.samples),
            "ask for more samples, or cut fewer parts");
    require("slice", !sure.gather, "--gather is given as well", "leave one of them out");
    require("slice",
            typed.has("out"),
            "the part has no file to go to",
            "name one with --out, such as part-3.csv");
    require("slice",
            !typed.has("explain") && !typed.has("format"),
            "a part is samples alone",
            "leave out --explain and --format, and give them when the parts are gathered");
    sure.slice = slice;
  }
  require("explain",
          !typed.has("explain") || options.format == Format::text,
          "inputs one at a time are told in text alone",
          "leave out --explain, or --format and the .csv of --out");
  if (!sure.gather) return;
  constexpr std::array<std::string_view, 7> of_output = {
      "gather", "confidence", "format", "out", "degrees", "lengths", "ascii"};
  for (const auto& [name, value] : typed.words()) {
    require(name,
            std::find(of_output.begin(), of_output.end(), name) != of_output.end(),
            "the parts hold that already",
            "leave it out; --gather reads all from the files");
  }
}

}  // namespace thickset::cli
