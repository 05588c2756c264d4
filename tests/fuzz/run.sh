# Runs fuzzers that were built as notes/fuzzing.md says:
#   sh tests/fuzz/run.sh BUILD NAME|readers|commands|all [RUNS [SECONDS]]
# RUNS: of each target; without it as many as targets.list says. SECONDS: longest that one may take;
# without it what is enough on a busy machine. Always the same seed, so that the same build does the
# same again. The last line of each target is "ok - fuzz NAME ..." or "not ok - ..."; what
# was found lies in BUILD/fuzz/found.
set -eu
cd "$(dirname "$0")/../.."
build=$(cd "$1" && pwd)
wanted=$2
runs_given=${3:-}
seconds_given=${4:-}

# Larger than any command takes with the sanitizers; readers get a few seconds.
timeout_of() {
  if [ -n "$seconds_given" ]; then
    echo "$seconds_given"
  elif [ "$1" = readers ]; then
    echo 10
  else
    echo 120
  fi
}

work=$build/fuzz
mkdir -p "$work/found"
TMPDIR=$(mktemp -d)
export TMPDIR
trap 'rm -rf "$TMPDIR"' EXIT

failed=0
known=0
while read -r name program longest dictionary runs shipped; do
  case $name in '#'* | '') continue ;; esac
  case $wanted in
    all | "$program" | "$name") ;;
    *) continue ;;
  esac
  known=1
  runs=${runs_given:-$runs}
  # New inputs of interest go to the first folder, which begins empty so that runs can be repeated.
  corpus=$work/corpus/$name
  rm -rf "$corpus"
  mkdir -p "$corpus" "$TMPDIR/shipped/$name"
  if [ "$shipped" != - ]; then cp $shipped "$TMPDIR/shipped/$name"; fi
  folders="$corpus $TMPDIR/shipped/$name"
  for folder in "tests/fuzz/seeds/$name" "tests/fuzz/found/$name"; do
    if [ -d "$folder" ]; then folders="$folders $PWD/$folder"; fi
  done
  log=$work/$name.log
  status=0
  "$build/tests/fuzz/fuzz_$name" -seed=1 -runs="$runs" -max_len="$longest" \
    -timeout="$(timeout_of "$program")" -rss_limit_mb=3000 -report_slow_units=5 -print_final_stats=1 \
    -dict="tests/fuzz/$dictionary.dict" -artifact_prefix="$work/found/$name-" \
    $folders >"$log" 2>&1 </dev/null || status=$?
  if [ "$status" -eq 0 ]; then
    echo "ok - fuzz $name: $(sed -n 's/^Done \([0-9]*\) runs in \([0-9]*\) second.*/\1 runs in \2 s/p' "$log")," \
      "the slowest in $(sed -n 's/^stat::slowest_unit_time_sec: *\([0-9]*\)$/\1/p' "$log") s"
  else
    failed=1
    tail -n 40 "$log"
    echo "not ok - fuzz $name: exit status $status, see $log"
  fi
done <tests/fuzz/targets.list
if [ "$known" -eq 0 ]; then
  echo "not ok - fuzz: there is no target $wanted"
  failed=1
fi
exit "$failed"
