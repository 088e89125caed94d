#!/bin/sh
# The program as it is installed: everything in its place, the samples found from there, nothing left of the build.
#   sh tests/command/installed.sh BUILD_FOLDER
. "$(dirname "$0")/helpers.sh"
build=$haftwright
sources=$(realpath "$here/../..")

cmake --install "$build" --prefix "$work/first" --strip >/dev/null || exit 1
# An installed tree may be moved as a whole.
mkdir elsewhere && mv first elsewhere/usr
tree=$work/elsewhere/usr
haftwright=$tree/bin/haftwright
for file in share/applications/haftwright.desktop share/icons/hicolor/scalable/apps/haftwright.svg \
  share/man/man1/haftwright.1 share/bash-completion/completions/haftwright share/doc/haftwright/README.md; do
  that "$file" test -s "$tree/$file"
done
# What README links to lies beside it.
sed -n 's/.*](\(projects[^)]*\)).*/\1/p' "$tree/share/doc/haftwright/README.md" >links
that 'README has links' test -s links
while read -r link; do that "README's link to $link" test -s "$tree/share/doc/haftwright/$link"; done <links

samples=$tree/share/haftwright/projects
for sample in "$projects"/*.json; do that "$sample" cmp "$sample" "$samples/$(basename "$sample")"; done
expect 'the installed bin has its photos' 0 "$haftwright" bin check --bin "$samples/bin.json"
expect 'check of an installed sample' 0 "$haftwright" check "$samples/shucking_knife.json"
# The solid kernel is a module beside it, found from where the program lies now.
that 'the solid kernel' test -s "$tree/lib/haftwright/haftwright-kernel.so"
expect 'exact solids of an installed sample' 0 "$haftwright" handle "$samples/shucking_knife.json" -o handle.step
that 'the handle' test -s handle.step
mv "$tree/lib/haftwright" "$tree/lib/elsewhere"
expect 'check without the solid kernel' 0 "$haftwright" check "$samples/shucking_knife.json"
expect 'exact solids without the solid kernel' 3 "$haftwright" handle "$samples/shucking_knife.json" -o none.step
that 'says that it is missing' has err "the solid kernel can't be loaded"
that 'nothing half-written' test ! -e none.step
# Nor is one of another version called: what lies there says so before anything else of it is used.
mkdir "$tree/lib/haftwright"
cat >other.cpp <<'EOF'
struct Engine { const char* version; unsigned long sizes[3]; void* functions[3]; };
extern "C" const Engine* haftwright_solid_engine() {
  static const Engine engine{"0.0.1", {1, 1, 1}, {nullptr, nullptr, nullptr}};
  return &engine;
}
EOF
expect 'a module of another version' 0 c++ -shared -fPIC other.cpp -o "$tree/lib/haftwright/haftwright-kernel.so"
expect 'exact solids with it' 3 "$haftwright" handle "$samples/shucking_knife.json" -o none.step
that 'says that it is of another version' has err 'belongs to another version of this program'
that 'nothing half-written' test ! -e none.step
rm -r "$tree/lib/haftwright"
mv "$tree/lib/elsewhere" "$tree/lib/haftwright"
expect 'the window opens an installed sample' 0 python3 "$sources/tests/window/run.py" "$haftwright" \
  StartPage.test_first_run
# The Debian package holds the same files, and names by itself the libraries that the program needs.
expect 'the Debian package' 0 cpack -G DEB --config "$build/CPackConfig.cmake" -B "$work/package"
package=$(echo "$work"/package/*.deb)
(cd "$tree" && find . -type f | sort) >installed-files
dpkg-deb --fsys-tarfile "$package" | tar -tf - | sed -n 's,^\./usr/\(.*[^/]\)$,./\1,p' | sort >packaged-files
that 'the package has every file' cmp installed-files packaged-files
dpkg-deb --field "$package" Depends >depends
for name in libocct-data-exchange libglfw3 libfreetype6 libepoxy0 libegl1 fonts-dejavu-core; do
  that "the package asks for $name" has depends "$name"
done

# Its own path is in no file: neither a machine's folders nor a build's are anybody's business.
grep -raF -e "$sources/" -e "$build/" "$tree" >traces
that "no path of the build: $(strings traces | head -n 3)" empty traces

echo "installed: $passed passed, $failed failed"
[ "$failed" -eq 0 ]
