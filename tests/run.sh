# Builds thickset from a fresh clone on Debian 12 with two compilers and runs every test:
#   sh tests/run.sh
# The last line is "N passed, N failed"; the exit status is 0 when nothing failed.
set -eu
cd "$(dirname "$0")/.."

packages="cmake make g++ libeigen3-dev libfmt-dev libboost-dev libboost-program-options-dev
     doctest-dev clang-14 clang-format-14 libclang-rt-14-dev git chromium fonts-dejavu-core python3
     dpkg-dev file fakeroot zsh fish valgrind"

cat <<EOF
This script, in $(pwd):
  1. installs those of these Debian packages that are missing (this needs root or sudo; when none is
     missing it is skipped):
     $packages
  2. builds with GCC (Release) into build-gcc/ and runs the tests;
  3. builds with Clang (Debug, address and undefined-behaviour sanitizers) into build-clang/, runs
     the tests again, and each fuzzer for a fixed number of inputs; meanwhile it
  4. installs into a temporary folder, which it removes, and builds a small program against that;
  5. makes a Debian package, installs it into another temporary folder, runs it and removes it;
  6. measures the firing page in a browser;
  7. runs the main job under valgrind;
  8. compares the layout of the code with .clang-format.
It writes nowhere else.

EOF

sh cli/debian_packages.sh $packages

passed=0
failed=0
jobs=$(nproc)
unset THICKSET_DATA

pass() {
  passed=$((passed + 1))
  echo "ok - $1"
}
fail() {
  failed=$((failed + 1))
  echo "not ok - $1"
}
step() {
  printf '\n== %s\n' "$1"
}

# build NAME FOLDER CMAKE-OPTION...
build() {
  name=$1
  folder=$2
  shift 2
  step "build: $name"
  # The folder may be left from another machine or compiler; what it compiled is worth keeping.
  if cmake -S . -B "$folder" -DTHICKSET_TESTS=ON -DTHICKSET_WARNINGS_AS_ERRORS=ON "$@" &&
    cmake --build "$folder" --parallel "$jobs"; then
    pass "builds with $name"
  else
    fail "builds with $name"
    return 1
  fi
}

# doctest NAME PROGRAM: runs the program's test cases in many parts, as many at a time as there are
# processors, and adds them to the sums. The order mixes short and long cases and is always the same.
# A part that crashes, prints no summary or exits with an error its summary does not show counts as
# one failure.
doctest() {
  step "tests: $1"
  cases=$("$2" --count | sed -n 's/.*current filters: \([0-9][0-9]*\).*/\1/p')
  cases=${cases:-0}
  if [ "$cases" -eq 0 ]; then
    fail "$1: no test case was run"
    return
  fi
  parts=$((jobs * 8))
  if [ "$parts" -gt "$cases" ]; then parts=$cases; fi
  rm -f "$2".*.log "$2".*.status
  # shellcheck disable=SC2016
  seq 0 $((parts - 1)) | xargs -P "$jobs" -I PART sh -c '
    status=0
    "$1" --order-by=rand --rand-seed=1 --first=$(($2 * PART / $3 + 1)) \
      --last=$(($2 * (PART + 1) / $3)) >"$1.PART.log" 2>&1 || status=$?
    echo "$status" >"$1.PART.status"' part "$2" "$cases" "$parts" || true
  part=0
  cases_failed=0
  broken=0
  while [ "$part" -lt "$parts" ]; do
    log="$2.$part.log"
    status=$(cat "$2.$part.status" 2>/dev/null || echo none)
    part=$((part + 1))
    cat "$log" || true
    # Each summary counts the cases of all of them as passed, but its own alone as failed.
    failed_here=$(sed -n 's/^\[doctest\] test cases:.*| *\([0-9][0-9]*\) failed.*/\1/p' "$log" | tail -n 1)
    if [ -z "$failed_here" ]; then
      fail "$1: no summary (exit status $status)"
      broken=1
      continue
    fi
    cases_failed=$((cases_failed + failed_here))
    if [ "$status" != 0 ] && [ "$failed_here" -eq 0 ]; then
      fail "$1: exit status $status though no test case failed"
    fi
  done
  failed=$((failed + cases_failed))
  if [ "$broken" -eq 0 ]; then passed=$((passed + cases - cases_failed)); fi
}

# run_into LOG COMMAND...: what the command prints goes to LOG.log, its exit status to LOG.status.
run_into() {
  log=$1
  shift
  status=0
  "$@" >"$log.log" 2>&1 || status=$?
  echo "$status" >"$log.status"
}

# add_up NAME LOG: adds the lines "ok - ..." and "not ok - ..." of what ran into LOG to the sums.
add_up() {
  step "$1"
  status=$(cat "$2.status" 2>/dev/null || echo none)
  cat "$2.log" || true
  lines_passed=$(grep -c '^ok - ' "$2.log" || true)
  lines_failed=$(grep -c '^not ok - ' "$2.log" || true)
  passed=$((passed + ${lines_passed:-0}))
  failed=$((failed + ${lines_failed:-0}))
  if [ "$status" != 0 ] && [ "${lines_failed:-0}" -eq 0 ]; then
    fail "$1: exit status $status though no check failed"
  fi
}

main_job_under_valgrind() {
  if valgrind --quiet --error-exitcode=9 --leak-check=full build-gcc/thickset tail --casting slab-50 \
    --steps 3 --confidence off >/dev/null; then
    echo "ok - valgrind has nothing to say of a tail"
  else
    echo "not ok - valgrind has nothing to say of a tail"
  fi
}

layout_of_the_code() {
  if find cli lib tests -name '*.h' -o -name '*.cpp' | xargs -n 100 clang-format-14 --dry-run --Werror; then
    echo "ok - the code is laid out as .clang-format says"
  else
    echo "not ok - the code is laid out as .clang-format says; clang-format-14 -i mends it"
  fi
}

# What needs the program alone, and waits more than it works.
beside() {
  run_into "$1/install" sh tests/install_client/check.sh build-gcc
  run_into "$1/package" sh tests/package/check.sh build-gcc
  run_into "$1/page" python3 -B tests/page/check.py build-gcc
  run_into "$1/valgrind" main_job_under_valgrind
  run_into "$1/layout" layout_of_the_code
}

logs=build-gcc/beside
built=no
if build "GCC, Release" build-gcc -DCMAKE_CXX_COMPILER=g++ -DCMAKE_BUILD_TYPE=Release; then
  built=yes
  doctest "GCC, Release" build-gcc/tests/thickset_tests
  rm -rf "$logs"
  mkdir "$logs"
  beside "$logs" &
fi

# Lines are enough to name a place.
if build "Clang, sanitizers" build-clang -DCMAKE_CXX_COMPILER=clang++-14 \
  -DCMAKE_BUILD_TYPE=Debug "-DCMAKE_CXX_FLAGS_DEBUG=-O2 -gline-tables-only" -DTHICKSET_SANITIZE=ON \
  -DTHICKSET_FUZZ=ON; then
  doctest "Clang, sanitizers" build-clang/tests/thickset_tests
  run_into build-clang/fuzzers sh tests/fuzz/run.sh build-clang all
  add_up "fuzzers" build-clang/fuzzers
fi

wait
if [ "$built" = yes ]; then
  add_up "installed package" "$logs/install"
  add_up "Debian package" "$logs/package"
  add_up "page in a browser" "$logs/page"
  add_up "main job under valgrind" "$logs/valgrind"
  add_up "layout of the code" "$logs/layout"
fi

echo
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
