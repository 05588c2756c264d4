#!/bin/sh
# Instructions of one solve of each workload, by valgrind's callgrind: what eleven solves take more
# than one, over ten.
#
#   sh tests/bench/count_instructions.sh build/tests/bench/thickset_bench
set -eu

bench=${1:?give the path of thickset_bench}

instructions() {
  valgrind --tool=callgrind --callgrind-out-file=/dev/null "$bench" "$1" "$2" 2>&1 |
    awk '$2 == "Collected" { print $4 }'
}

for workload in W1 W2; do
  one=$(instructions "$workload" 1)
  eleven=$(instructions "$workload" 11)
  echo "$workload: $(((eleven - one) / 10)) instructions a solve"
done
