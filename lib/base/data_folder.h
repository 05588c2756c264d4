#pragma once

#include <string>
#include <vector>

namespace thickset {

/// The folder that holds glasses/, castings/, kilns/, controllers/ and programs/.
///
/// The environment variable THICKSET_DATA where it is set, and then no other; the user's own files
/// (own_data_folder) come before either. Without it, tried
/// in order: `beside_program`, relative to the folder of the running program; `source_data`, the
/// folder of the source tree it was built from.
/// Throws: Error that names what was tried when none of them is a folder with glasses/ in it.
std::string find_data_folder(const std::string& beside_program, const std::string& source_data);

/// The user's own data folder, whether it is there or not: $XDG_DATA_HOME/thickset, or
/// $HOME/.local/share/thickset where that variable is unset, empty or a relative path; empty where
/// neither is to be had. Source: XDG Base Directory Specification 0.8.
std::string own_data_folder();

/// The path a user meant: `name` itself when it contains "/" or is a file, else
/// `kind`/`name`.`extension` in the user's own data folder where that is a file, else
/// `folder`/`kind`/`name`.`extension`, as in data/glasses/soda-lime-float.glass, where that is one.
/// A name with a "." that is neither is taken for a path, which the reader will not find.
///
/// Throws: Error that offers the nearest shipped name when there is no such file.
std::string find_data_file(const std::string& folder,
                           const std::string& kind,
                           const std::string& extension,
                           const std::string& name,
                           const std::string& asked_by);

/// Whether a path that find_data_file gave is the user's own file while a shipped one has its name.
bool hides_shipped(const std::string& path,
                   const std::string& folder,
                   const std::string& kind,
                   const std::string& extension,
                   const std::string& name);

/// Names (without extension) of the files of one kind, sorted.
std::vector<std::string> data_names(const std::string& folder,
                                    const std::string& kind,
                                    const std::string& extension);

}  // namespace thickset
