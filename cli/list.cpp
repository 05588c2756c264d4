#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "base/data_folder.h"
#include "base/entries.h"
#include "base/error.h"
#include "base/text.h"
#include "commands.h"
#include "inputs.h"
#include "reporting/listing.h"
#include "schedule/read_controller.h"

namespace thickset::cli {
namespace {

std::string path_of(DataKind kind, const std::string& name) {
  return find_data_file(data_folder(), kind.folder, kind.extension, name, "list");
}

/// Everything of one kind: a table of glasses or moulds, a line each of the others.
std::string list_kind(DataKind kind, const Display& display) {
  if (kind.folder == std::string{glasses.folder}) {
    std::vector<Glass> all;
    for (const std::string& name : names_of(kind)) all.push_back(load_glass(name, {}));
    return glass_table(all, display);
  }
  if (kind.folder == std::string{moulds.folder}) {
    std::vector<Mould> all;
    for (const std::string& name : names_of(kind)) all.push_back(read_mould(path_of(kind, name)));
    return mould_table(all, display);
  }
  std::string text = std::string{kind.folder} + ":\n";
  for (const std::string& name : names_of(kind)) {
    std::string title;
    if (kind.folder == std::string{castings.folder}) title = load_casting_file(name, {}).title;
    if (kind.folder == std::string{kilns.folder}) title = read_kiln(path_of(kind, name)).title;
    if (kind.folder == std::string{controllers.folder}) {
      title = read_controller(path_of(kind, name)).title;
    }
    text += wrapped(fmt::format("  {:<22} {}", name, title), 79, 27) + '\n';
  }
  return text;
}

std::string list_one(DataKind kind, const std::string& name, const Display& display) {
  if (kind.folder == std::string{glasses.folder}) return describe(load_glass(name, {}), display);
  if (kind.folder == std::string{castings.folder}) {
    return describe(load_casting_file(name, {}), display);
  }
  if (kind.folder == std::string{moulds.folder}) {
    return describe(read_mould(path_of(kind, name)), display);
  }
  if (kind.folder == std::string{kilns.folder}) {
    return describe(read_kiln(path_of(kind, name)), display);
  }
  return describe(read_controller(path_of(kind, name)));
}

}  // namespace

ExitStatus list(const Options& options) {
  constexpr DataKind kinds[] = {glasses, castings, moulds, kilns, controllers};
  const Display display{options.degrees.value_or(Degrees::celsius), options.lengths};
  std::string text;
  std::vector<std::string> known;
  for (const DataKind kind : kinds) {
    const std::vector<std::string> names = names_of(kind);
    known.emplace_back(kind.folder);
    known.insert(known.end(), names.begin(), names.end());
    if (options.topic.empty()) {
      text += list_kind(kind, display) + '\n';
    } else if (options.topic == kind.folder) {
      text = list_kind(kind, display);
    } else if (std::find(names.begin(), names.end(), options.topic) != names.end()) {
      text += list_one(kind, options.topic, display);
    }
  }
  if (text.empty()) {
    const std::string nearest = nearest_name(options.topic, known);
    throw Error{{},
                fmt::format("nothing that ships is called {}", in_quotes(options.topic)),
                nearest.empty() ? "`thickset list` shows all of it"
                                : fmt::format("did you mean {}?", nearest)};
  }
  if (options.topic.empty()) text += "`thickset list NAME` shows what each value rests on.\n";
  deliver(options, text);
  return fine;
}

}  // namespace thickset::cli
