// The solid kernel opened as a module of the program.
#include <dlfcn.h>

#include <filesystem>
#include <string_view>
#include <system_error>

#include "haftwright/solids/engine.hpp"

namespace haftwright {
namespace {

namespace fs = std::filesystem;

/// Found from the running program, so that an installed tree may be moved; a build folder has the same shape.
fs::path module_path() {
  std::error_code error;
  const fs::path beside = fs::read_symlink("/proc/self/exe", error).parent_path();
  const fs::path installed = beside / HAFTWRIGHT_LIBRARIES_FROM_PROGRAM / HAFTWRIGHT_KERNEL_MODULE;
  return fs::exists(installed, error) ? installed : beside / "lib/haftwright" / HAFTWRIGHT_KERNEL_MODULE;
}

const SolidEngine& opened() {
  const std::string path = module_path().lexically_normal().string();
  void* module = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (!module) throw EngineError(std::string("the solid kernel can't be loaded: ") + dlerror());
  using Ask = const SolidEngine* (*)();
  const auto ask = reinterpret_cast<Ask>(dlsym(module, "haftwright_solid_engine"));
  const SolidEngine* engine = ask ? ask() : nullptr;
  if (!engine || std::string_view(engine->version) != HAFTWRIGHT_VERSION ||
      engine->design_bytes != sizeof(Design) || engine->handle_bytes != sizeof(Handle) ||
      engine->guide_bytes != sizeof(DrillGuide))
    throw EngineError("the solid kernel " + path +
                      " belongs to another version of this program; install both anew");
  return *engine;
}

}  // namespace

const SolidEngine& solid_engine() {
  static const SolidEngine& engine = opened();
  return engine;
}

}  // namespace haftwright
