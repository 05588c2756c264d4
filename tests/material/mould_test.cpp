#include "material/mould.h"

#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/data_folder.h"
#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const std::string data = std::string{THICKSET_SOURCE} + "/data";

const std::string plain =
    "title = my plaster\n"
    "status = assumed\n"
    "density = 1.1 g/cm3 [own weighing]\n"
    "conductivity = table 20 C 0.30, 600 C 0.40 W/(m K)\n"
    "heat_capacity = 1000 J/(kg K)\n";

}  // namespace

TEST_CASE("a mould file gives title, status, density, laws and what each rests on") {
  const TemporaryFolder folder;
  const Mould mould = read_mould(folder.file("mine.mould", plain));
  CHECK(mould.name == "mine");
  CHECK(mould.title == "my plaster");
  CHECK(mould.assumed());
  CHECK(std::abs(mould.density_kg_per_m3 - 1100.0) <= 1e-9);
  CHECK(std::abs(mould.conductivity_W_per_m_K.at(873.15) - 0.40) <= 1e-12);
  CHECK(mould.heat_capacity_J_per_kg_K.at(500.0) == 1000.0);
  CHECK(mould.density_source == "[own weighing]");
  CHECK(mould.conductivity_source == "no source given");
}

TEST_CASE("half and double the conductivity change nothing else of a material") {
  const TemporaryFolder folder;
  const Mould mould = read_mould(folder.file("mine.mould", plain));
  for (const double factor : {0.5, 2.0}) {
    const Mould changed = mould.with_conductivity_times(factor);
    for (const double T_K : {250.0, 300.0, 700.0, 1000.0}) {
      CHECK(std::abs(changed.conductivity_W_per_m_K.at(T_K) -
                     factor * mould.conductivity_W_per_m_K.at(T_K)) <= 1e-12);
    }
    CHECK(changed.density_kg_per_m3 == mould.density_kg_per_m3);
    CHECK(changed.name == mould.name);
  }
}

TEST_CASE("all that is wrong with a mould file comes at once, each with its place") {
  const TemporaryFolder folder;
  const std::string path = folder.file("bad.mould",
                                       "density = 11 kg/m3\n"
                                       "conductivty = 0.35 W/(m K)\n"
                                       "heat_capacity = 1000\n"
                                       "status = sure\n"
                                       "title = a\n"
                                       "title = b\n");
  const std::string message = message_of([&] { read_mould(path); });
  CAPTURE(message);
  for (const std::string& line :
       {path + ":2:1: \"conductivty\" is not a known key; did you mean conductivity?",
        path + ":6:1: title is given twice; leave one of them out",
        path + ":1:11: density 11 kg/m3 is outside 20 to 8000 kg/m3; check the number and its unit",
        path + ": conductivity is missing; add a line such as \"conductivity = 0.35 W/(m K)\"",
        path + ":3:17: 1000 has no unit; write 1000 J/(kg K)",
        path + ":4:10: \"sure\" is no value of status; write published, from-memory or assumed"}) {
    CAPTURE(line);
    CHECK(message.find(line) != message.npos);
  }
}

TEST_CASE("every material that ships is read, with a title of its own and a source to each value") {
  const std::vector<std::string> names = data_names(data, "moulds", "mould");
  CHECK(names.size() >= 8);
  for (const std::string& name : names) {
    CAPTURE(name);
    const Mould mould = read_mould(data + "/moulds/" + name + ".mould");
    CHECK(mould.title != name);
    for (const std::string& source :
         {mould.density_source, mould.conductivity_source, mould.heat_capacity_source}) {
      CHECK(source != "no source given");
      if (mould.status == Mould::Status::published) CHECK(source.find("memory") == source.npos);
    }
  }
}
