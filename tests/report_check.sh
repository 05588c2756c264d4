# For scripts that print "ok - ..." and "not ok - ...": sourced after scratch, a folder, is set.
result=0
# check NAME COMMAND...: shows what the command printed only when it fails.
check() {
  name=$1
  shift
  if "$@" >"$scratch/log" 2>&1; then
    echo "ok - $name"
  else
    cat "$scratch/log"
    echo "not ok - $name"
    result=1
  fi
}
