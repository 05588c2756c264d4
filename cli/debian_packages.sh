# Installs the Debian packages named as arguments, unless all of them are there already.
# Says what it will install and why it asks for root before it does so.
set -eu

if ! command -v dpkg-query >/dev/null; then
  echo "This is not a Debian system: nothing is installed. README.md lists what to install here."
  exit 0
fi

missing=""
for package in "$@"; do
  status=$(dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null | grep -x installed || true)
  [ -n "$status" ] || missing="$missing $package"
done
if [ -z "$missing" ]; then
  echo "All Debian packages needed are installed already."
  exit 0
fi

as_root="env"
how="as root"
if [ "$(id -u)" -ne 0 ]; then
  command -v sudo >/dev/null || {
    echo "These packages are missing:$missing" >&2
    echo "Installing them needs root, and there is no sudo here: run this as root." >&2
    exit 1
  }
  as_root="sudo env"
  how="through sudo"
fi

install_missing() {
  # The words of $as_root and $missing are meant to be split.
  $as_root DEBIAN_FRONTEND=noninteractive \
    apt-get install --yes --quiet --no-install-recommends $missing
}

echo "Installing with apt-get, $how:$missing"
if ! install_missing; then
  echo "The package lists are missing or old: updating them (apt-get update), then trying again."
  $as_root apt-get update --quiet
  install_missing
fi
