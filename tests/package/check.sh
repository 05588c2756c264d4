# Makes the Debian package of a finished build, looks into it, installs it, runs what was installed,
# and removes it again:
#   sh tests/package/check.sh BUILD-FOLDER
# The system itself is left alone: dpkg installs into a temporary folder with a copy of the system's
# list of packages, so that what the package depends on has to be on this machine. Needs dpkg-dev
# and file; fakeroot as well for who is not root.
# Prints one line for each check, "ok - ..." or "not ok - ..."; exits with 1 when one fails.
set -eu

build=$(cd "$1" && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
root="$scratch/root"
deb=""
unset THICKSET_DATA XDG_DATA_HOME

. "$(dirname "$0")/../report_check.sh"

as_root() {
  if [ "$(id -u)" -eq 0 ]; then "$@"; else fakeroot -i "$scratch/fake" -s "$scratch/fake" "$@"; fi
}

made() {
  : >"$scratch/fake"
  (cd "$build" && cpack -G DEB -B "$scratch/made") || return 1
  deb=$(find "$scratch/made" -maxdepth 1 -name 'thickset_*.deb')
  [ -f "$deb" ]
}

field() {
  dpkg-deb --field "$deb" "$1"
}

control_fields() {
  [ "$(field Package)" = thickset ] || { echo "name"; return 1; }
  version=$("$build/thickset" --version)
  [ "thickset $(field Version)" = "$version" ] || { echo "version"; return 1; }
  [ "$(field Architecture)" = "$(dpkg --print-architecture)" ] || { echo "architecture"; return 1; }
  [ "$(field Section)" = science ] || { echo "section"; return 1; }
  field Maintainer | grep -q '^[^<]* <[^@ ]*@[^@ ]*>$' || { echo "maintainer"; return 1; }
  # A line of summary, then lines of description, none wider than a terminal.
  [ "$(field Description | wc -l)" -ge 3 ] || { echo "description"; return 1; }
  ! field Description | grep -E '.{81}' || { echo "wide description"; return 1; }
  for library in libc6 libstdc++6 libfmt libboost-program-options; do
    field Depends | grep -qF "$library" || { echo "does not depend on $library"; return 1; }
  done
}

contents() {
  dpkg-deb --contents "$deb" >"$scratch/contents" || return 1
  for file in bin/thickset share/man/man1/thickset.1.gz share/doc/thickset/copyright \
    share/doc/thickset/README.md share/doc/thickset/notes/data_formats.md \
    share/bash-completion/completions/thickset share/zsh/vendor-completions/_thickset \
    share/fish/vendor_completions.d/thickset.fish share/thickset/glasses/soda-lime-float.glass; do
    grep -q " \./usr/$file\$" "$scratch/contents" || { echo "missing: $file"; return 1; }
  done
  # All of it root's, below /usr, and to be changed by root alone.
  ! grep -v ' root/root ' "$scratch/contents" || { echo "another owner"; return 1; }
  ! grep -v -E ' \./(usr/.*)?$' "$scratch/contents" || { echo "outside of /usr"; return 1; }
  ! grep -E '^.....w|^........w' "$scratch/contents" || { echo "others may write"; return 1; }
  # Of the library there is nothing.
  ! grep -E '\.(a|h|cmake)$' "$scratch/contents" || { echo "of the library"; return 1; }
}

files_as_debian_wants_them() {
  dpkg-deb --extract "$deb" "$scratch/extracted" || return 1
  cd "$scratch/extracted/usr" || return 1
  gzip -dc share/man/man1/thickset.1.gz >"$scratch/manual" || return 1
  "$build/thickset" help manual | cmp - "$scratch/manual" || { echo "another manual"; return 1; }
  # gzip's flags, fourth byte: neither name nor comment, so that it is the same bytes each time.
  [ "$(od -An -tu1 -j3 -N1 share/man/man1/thickset.1.gz | tr -d ' ')" = 0 ] || return 1
  file -b bin/thickset | grep -q ' stripped' || { echo "not stripped"; return 1; }
  ! objdump -p bin/thickset | grep -E 'RPATH|RUNPATH' || return 1
  grep -q '^License: Expat$' share/doc/thickset/copyright || { echo "no licence"; return 1; }
  grep -q 'THE SOFTWARE IS PROVIDED' share/doc/thickset/copyright || return 1
  ! grep -rIlF "$build" . || { echo "these name the build folder"; return 1; }
}

all_names() {
  (cd "$root" && find . -path ./var/lib/dpkg -prune -o -print | sort)
}

installed() {
  mkdir -p "$root/var/lib/dpkg/info" "$root/var/lib/dpkg/updates" "$root/var/log" || return 1
  cp /var/lib/dpkg/status "$root/var/lib/dpkg/status" || return 1
  all_names >"$scratch/before"
  as_root dpkg --root="$root" --install "$deb" || return 1
  dpkg-query --admindir="$root/var/lib/dpkg" -W -f='${db:Status-Status}\n' thickset |
    grep -x installed
}

intact() {
  as_root dpkg --root="$root" --verify thickset >"$scratch/changed" || return 1
  [ ! -s "$scratch/changed" ] || { cat "$scratch/changed"; return 1; }
}

# The main job, away from the source tree, with data that only the installed package has.
does_its_job() {
  cp "$root/usr/share/thickset/castings/slab-50.casting" "$scratch/kept" || return 1
  (cd / && HOME="$scratch" "$root/usr/bin/thickset" tail --casting slab-50 --format csv) \
    >"$scratch/tail.csv" || return 1
  (cd / && HOME="$scratch" "$root/usr/bin/thickset" check - --casting slab-50 --format keys) \
    <"$scratch/tail.csv" >"$scratch/keys" || return 1
  grep -x 'verdict = within' "$scratch/keys" || return 1
  # It is this data that it reads: without the casting it does not know the name.
  rm "$root/usr/share/thickset/castings/slab-50.casting"
  if (cd / && HOME="$scratch" "$root/usr/bin/thickset" tail --casting slab-50) 2>"$scratch/said"
  then
    echo "reads data from elsewhere"
    return 1
  fi
  cp "$scratch/kept" "$root/usr/share/thickset/castings/slab-50.casting" || return 1
  cat "$scratch/said"
  grep -q 'no casting is called' "$scratch/said"
}

completes() {
  bash -n "$root/usr/share/bash-completion/completions/thickset" &&
    zsh -n "$root/usr/share/zsh/vendor-completions/_thickset" &&
    fish -c "source $root/usr/share/fish/vendor_completions.d/thickset.fish
             complete -C 'thickset tai' | string match -q 'tail*'"
}

removed() {
  as_root dpkg --root="$root" --purge thickset || return 1
  all_names >"$scratch/after"
  # dpkg's own log is no part of the package.
  diff "$scratch/before" "$scratch/after" | grep -v '^[<>] ./var/log/dpkg.log$' | grep '^[<>]' &&
    return 1
  ! dpkg-query --admindir="$root/var/lib/dpkg" -W thickset
}

check "cpack makes a Debian package" made
if [ -f "$deb" ]; then
  check "the package's fields are in order, with what it depends on" control_fields
  check "the package holds the program, manual, completions, data and notes, and no more" contents
  check "its manual is compressed, its program stripped, its licence there" \
    files_as_debian_wants_them
  check "dpkg installs it beside the packages of this system" installed
  check "every installed file is as it was packed" intact
  check "the installed program plans a tail and checks it, with the installed data" does_its_job
  check "bash, zsh and fish read the installed completions" completes
  check "dpkg removes it and leaves nothing" removed
fi
exit $result
