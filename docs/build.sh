#!/usr/bin/env bash
# Builds the documentation site: build/docs/html/index.html. Warnings are errors.
#   docs/build.sh
set -euo pipefail
# shellcheck source-path=SCRIPTDIR source=../tests/setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/../tests/setup.sh"
cd "$root"

need_packages "${build_packages[@]}" doxygen
install_package dev

out=$root/build/docs
pages=$out/pages # docs and notebooks side by side, as the site has them; notebooks may be missing
rm -rf "$out"
mkdir -p "$out/doxygen" "$pages/notebooks"
cp -r docs/. README.md DEVELOPERS.md "$pages"
find notebooks -maxdepth 1 -name '*.ipynb' -exec cp -p {} "$pages/notebooks" \; 2>/dev/null || true

version=$(sed -nE 's/^project\(libferment VERSION ([0-9.]+).*/\1/p' CMakeLists.txt)
{
    cat docs/Doxyfile
    echo "PROJECT_NUMBER = $version"
} | doxygen -

"$venv/bin/python" -m sphinx --fail-on-warning --keep-going --nitpicky --quiet -c docs -d "$out/doctrees" "$pages" "$out/html"
"$venv/bin/python" docs/check_site.py "$out/html"
echo "build/docs/html/index.html"
