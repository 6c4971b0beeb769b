# shellcheck shell=bash disable=SC2034
# Sourced by examples/run, tests/run and the scripts beside it: gets a bare Debian 12 machine ready. Nothing outside the checkout is changed but
# system packages.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
venv=$root/build/venv
CMAKE_BUILD_PARALLEL_LEVEL=$(nproc)
export CMAKE_BUILD_PARALLEL_LEVEL

die() {
    echo "$*" >&2
    exit 1
}

# need_packages NAME...: installs the Debian packages that are missing.
need_packages() {
    local package missing=() as_root=()
    command -v apt-get >/dev/null || return 0 # another system: the tools themselves will say what they miss
    for package in "$@"; do
        [[ $(dpkg-query -W -f='${db:Status-Abbrev}' "$package" 2>/dev/null) == ii* ]] || missing+=("$package")
    done
    ((${#missing[@]})) || return 0
    if ((EUID != 0)); then
        command -v sudo >/dev/null || die "missing packages; as root: apt-get install ${missing[*]}"
        as_root=(sudo)
    fi
    echo "installing ${missing[*]}"
    "${as_root[@]}" apt-get update -qq || die "apt-get update failed"
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null ||
        die "apt-get install failed"
}

# The first Python on the path that is new enough and can both make environments and build extensions.
find_python() {
    local python
    while read -r python; do
        if "$python" -c 'import ensurepip, os, sys, sysconfig, venv
ok = sys.version_info >= (3, 11) and os.path.exists(os.path.join(sysconfig.get_path("include"), "Python.h"))
sys.exit(not ok)' 2>/dev/null; then
            echo "$python"
            return
        fi
    done < <(type -aP python3 python3.13 python3.12 python3.11)
    return 1
}

# source_hash FOLDER: what the wheel of a checkout or an unpacked archive is made of, as one number.
source_hash() {
    (
        cd "$1" || exit
        "$venv/bin/python" -VV
        find CMakeLists.txt pyproject.toml LICENSE libferment bindings -type f -not -path '*/__pycache__/*' -print0 | sort -z | xargs -0 sha256sum
    ) | sha256sum | cut -d' ' -f1
}

# install_package EXTRA: the package, built as a user's pip builds it, with one of its extras, in build/venv. Rebuilds only what changed.
install_package() {
    local python hash wheel wheels=$root/build/wheel
    if ! "$venv/bin/python" -m pip --version &>/dev/null; then
        python=$(find_python) || die "no Python 3.11 or later with venv and headers found"
        rm -rf "$venv"
        "$python" -m venv "$venv" || die "cannot make $venv"
    fi
    hash=$(source_hash "$root")
    if [[ $(cat "$wheels/hash" 2>/dev/null) != "$hash" ]]; then
        echo "building the Python package"
        rm -rf "$wheels"
        "$venv/bin/python" -m pip wheel --quiet --disable-pip-version-check --no-deps --wheel-dir "$wheels" "$root" || die "the package does not build"
        echo "$hash" >"$wheels/hash"
    fi
    if [[ $(cat "$venv/hash-$1" 2>/dev/null) != "$hash" ]]; then
        echo "installing the Python package"
        wheel=$(echo "$wheels"/libferment-*.whl)
        "$venv/bin/python" -m pip install --quiet --disable-pip-version-check --no-deps --force-reinstall "$wheel" || die "the package does not install"
        "$venv/bin/python" -m pip install --quiet --disable-pip-version-check "${wheel}[$1]" || die "the package's extra '$1' does not install"
        echo "$hash" >"$venv/hash-$1"
    fi
}

build_packages=(ca-certificates cmake ninja-build g++ pkg-config libboost-dev libeigen3-dev python3-venv python3-dev)
