# Installs a finished build into a temporary folder, builds the client program against what was
# installed, and runs the installed program away from its source tree:
#   sh tests/install_client/check.sh BUILD-FOLDER
# Prints one line for each check, "ok - ..." or "not ok - ..."; exits with 1 when one fails.
set -eu

source=$(cd "$(dirname "$0")" && pwd)
build=$(cd "$1" && pwd)
compiler=$(sed -n 's/^CMAKE_CXX_COMPILER:[A-Z]*=//p' "$build/CMakeCache.txt")
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
# Spaces in the name, and moved after installing: neither may matter.
first="$scratch/first place"
prefix="$scratch/moved to another place"
unset THICKSET_DATA

. "$(dirname "$0")/../report_check.sh"

everything_in_place() {
  for file in bin/thickset share/thickset/glasses share/doc/thickset/LICENSE \
    share/doc/thickset/README.md include/thickset/base/error.h; do
    [ -e "$prefix/$file" ] || { echo "missing: $file"; return 1; }
  done
  for file in libthickset.a thickset-config.cmake thickset-config-version.cmake; do
    [ -n "$(find "$prefix/lib" -name "$file")" ] || { echo "missing: $file"; return 1; }
  done
}

no_build_detail_exported() {
  # Neither our warning flags nor a path of the build or source tree.
  [ -f "$(find "$prefix/lib" -name thickset-targets.cmake)" ] || return 1
  tree=$(dirname "$(dirname "$source")")
  for needle in thickset_flags thickset_warnings -Wall -Werror -fsanitize "$build" "$tree" "$first"; do
    ! find "$prefix/lib" -name '*.cmake' -exec grep -nF -e "$needle" {} + || return 1
  done
}

client_builds() {
  cmake -S "$source" -B "$scratch/client" -DCMAKE_CXX_COMPILER="$compiler" \
    -DCMAKE_PREFIX_PATH="$prefix" && cmake --build "$scratch/client"
}

client_runs() {
  [ "$("$scratch/client/client")" = "500 C 1000 J/(kg K)" ]
}

finds_installed_data() {
  # A glass that only the installed data has: the source tree's data cannot answer for it.
  for glass in "$prefix"/share/thickset/glasses/*.glass; do
    cp "$glass" "$prefix/share/thickset/glasses/only-installed-here.glass"
    break
  done
  (cd / && "$prefix/bin/thickset" list >"$scratch/list") || return 1
  cat "$scratch/list"
  grep -q only-installed-here "$scratch/list"
}

check "installs into a folder of its own" cmake --install "$build" --prefix "$first"
mv "$first" "$prefix"
check "installs the program, data, documents, headers, library and CMake package" everything_in_place
check "exports no warning flag and no path of the build" no_build_detail_exported
check "a client program builds against the installed package" client_builds
check "the client program runs" client_runs
check "the installed program finds its data from any folder" finds_installed_data
exit $result
