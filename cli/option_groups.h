#pragma once

#include <boost/program_options/options_description.hpp>

/// Options that several commands share, with the words of their help.
namespace thickset::cli {

boost::program_options::options_description casting_options();
boost::program_options::options_description rows_options();  ///< of table: what is cast, by rows
boost::program_options::options_description mould_options();
/// A firing that begins cold begins in the room.
enum class Begins { hot, cold };
boost::program_options::options_description firing_options(Begins begins = Begins::hot);
boost::program_options::options_description limit_options();
boost::program_options::options_description sure_options();
boost::program_options::options_description hold_options();
boost::program_options::options_description controller_options();
boost::program_options::options_description table_controller_options();
boost::program_options::options_description stress_options();
boost::program_options::options_description page_options();
boost::program_options::options_description picture_options();  ///< and single charts
boost::program_options::options_description table_picture_options();
boost::program_options::options_description sketch_options();
boost::program_options::options_description record_options();
boost::program_options::options_description output_options();
boost::program_options::options_description kiln_output_options();

}  // namespace thickset::cli
