#!/usr/bin/env bash
# Builds the C++ projects of the examples as a stranger would: each copied out of the checkout, with the library installed into a folder of its own
# (or its sources as a subdirectory), by the commands at the head of each project. Then compares what they print (tests/embedding/). Called by tests/run.
#   tests/embedding.sh [BUILD]     BUILD: an empty or old folder to build in; build/embedding
set -euo pipefail
# shellcheck source-path=SCRIPTDIR source=setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/setup.sh"

build=${1-$root/build/embedding}
warnings="-Wall -Wextra -Wconversion -Wshadow -Werror"

# install_library FOLDER OPTION...: configures, builds and installs the library.
install_library() {
    local folder=$1
    shift
    cmake -S "$root" -B "$build/library_$folder" -G Ninja -DCMAKE_BUILD_TYPE=Release -DLIBFERMENT_TESTS=OFF "$@"
    cmake --build "$build/library_$folder"
    cmake --install "$build/library_$folder" --prefix "$build/$folder"
}

# project FOLDER OPTION...: copies a project of the examples and builds it with CMake.
project() {
    local name=${1##*/} copy=$build/${1##*/}
    mkdir "$copy"
    find "$root/examples/$1" -maxdepth 1 -type f -exec cp '{}' "$copy" \;
    shift
    [[ $name != with_add_subdirectory ]] || ln -s "$root" "$copy/libferment"
    cmake -S "$copy" -B "$copy/build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_FLAGS="$warnings" -DCMAKE_C_FLAGS="$warnings" "$@"
    cmake --build "$copy/build"
}

c_library_and_its_user() {
    install_library with_c -DLIBFERMENT_C=ON -DCMAKE_CXX_FLAGS_RELEASE=-O1 # as fast to run here, and sooner compiled
    project embed_c -DCMAKE_PREFIX_PATH="$build/with_c"
}

need_packages "${build_packages[@]}" make
[[ ! -e $build || -e $build/library_headers || -z $(ls -A "$build") ]] || die "$build holds something else"
rm -rf "$build"
mkdir -p "$build"

# The library behind the C header takes a core for a while; everything else fits beside it.
beside=()
if [[ -d $root/examples/embed_c ]]; then
    c_library_and_its_user >"$build/c_library.txt" 2>&1 &
    beside=($!)
fi
install_library headers -DLIBFERMENT_C=OFF
project embed/sensor -DCMAKE_PREFIX_PATH="$build/headers"
project embed/with_find_package -DCMAKE_PREFIX_PATH="$build/headers"
project embed/only_liquid -DCMAKE_PREFIX_PATH="$build/headers"
project embed/with_add_subdirectory
mkdir "$build/with_pkg_config"
cp "$root"/examples/embed/with_pkg_config/{Makefile,main.cpp,expected.txt} "$build/with_pkg_config"
PKG_CONFIG_PATH=$build/headers/share/pkgconfig make -C "$build/with_pkg_config"
if ((${#beside[@]})); then
    wait "${beside[0]}" || {
        cat "$build/c_library.txt"
        exit 1
    }
fi

EMBEDDING_BUILD=$build "$venv/bin/python" -m pytest "$root/tests/embedding"
