# Builds thickset from a fresh clone on Debian 12 and runs it once on a casting that ships with it:
#   sh cli/try.sh
set -eu
cd "$(dirname "$0")/.."

main_job="build/thickset tail --casting block-75x75x150 --controller seven-steps-by-time"
packages="cmake make g++ libeigen3-dev libfmt-dev libboost-dev libboost-program-options-dev"

cat <<EOF
This script, in $(pwd):
  1. installs those of these Debian packages that are missing (this needs root or sudo; when none is
     missing it is skipped):
     $packages
  2. builds the program into build/ here, and writes nowhere else;
  3. runs: $main_job

EOF

sh cli/debian_packages.sh $packages

echo
echo "Building into build/"
cmake -S . -B build -DCMAKE_BUILD_TYPE=Release -DTHICKSET_TESTS=OFF
cmake --build build --parallel "$(nproc)"

echo
echo "\$ $main_job"
$main_job
