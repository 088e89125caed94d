# Sourced by demo.sh and tests/run.sh: makes sure that the named Debian packages are there.

# Packages to build and run the program.
build_packages='g++ cmake ninja-build ccache libglm-dev nlohmann-json3-dev libcli11-dev libocct-foundation-dev
libocct-modeling-data-dev libocct-modeling-algorithms-dev libocct-ocaf-dev libocct-data-exchange-dev
libocct-visualization-dev libtbb-dev libimgui-dev libglfw3-dev libfreetype-dev libstb-dev libepoxy-dev libegl-dev
libgl-dev libegl1 libgl1-mesa-dri fonts-dejavu-core libpolyclipping-dev libjpeg62-turbo-dev libpng-dev libtiff-dev
libheif-dev libpugixml-dev'
# Packages the tests want besides.
test_packages='catch2 libbenchmark-dev clang clang-format
libclang-rt-14-dev llvm python3 git xvfb xdotool dpkg-dev file groff-base poppler-utils'

# need_packages NAME...: installs those that are missing, saying so first.
need_packages() {
  missing=''
  for package in "$@"; do
    case "$(dpkg-query -W -f='${Status}' "$package" 2>/dev/null)" in
      'install ok installed') ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -n "$missing" ] || return 0
  if ! command -v apt-get >/dev/null 2>&1; then
    echo "This system has no apt-get. Please install what these Debian 12 packages hold, then run this again:" >&2
    echo " $missing" >&2
    exit 1
  fi
  as_root=''
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
      echo "These packages are missing; please install them as root, then run this again:" >&2
      echo "  apt-get install$missing" >&2
      exit 1
    fi
    as_root='sudo'
  fi
  echo "Installing Debian packages:$missing"
  $as_root apt-get update -qq || echo "The package list could not be refreshed; trying with the one that is here." >&2
  # $missing is a list of words on purpose.
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
}
