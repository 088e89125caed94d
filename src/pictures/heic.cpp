// HEIC by libheif, which is opened when the first such picture is read: most never need it, and what it links
// in its turn (encoders of films, one of them under the GPL) is no part of this program.
#include <dlfcn.h>
#include <libheif/heif.h>

#include <algorithm>
#include <memory>

#include "decode.hpp"

namespace haftwright::pictures {
namespace {

constexpr const char* kLibrary = "libheif.so.1";

/// The functions of the library that are used.
struct Heif {
  decltype(&heif_context_alloc) context_alloc;
  decltype(&heif_context_free) context_free;
  decltype(&heif_context_set_maximum_image_size_limit) set_size_limit;
  decltype(&heif_context_set_max_decoding_threads) set_threads;
  decltype(&heif_context_read_from_memory_without_copy) read;
  decltype(&heif_context_get_primary_image_handle) primary;
  decltype(&heif_image_handle_release) handle_release;
  decltype(&heif_image_handle_get_width) width;
  decltype(&heif_image_handle_get_height) height;
  decltype(&heif_decoding_options_alloc) options_alloc;
  decltype(&heif_decoding_options_free) options_free;
  decltype(&heif_decode_image) decode;
  decltype(&heif_image_release) image_release;
  decltype(&heif_image_get_width) image_width;
  decltype(&heif_image_get_height) image_height;
  decltype(&heif_image_get_plane_readonly) plane;
  decltype(&heif_image_get_decoding_warnings) warnings;
};

template <class Function>
bool find(void* library, const char* name, Function& function) {
  function = reinterpret_cast<Function>(dlsym(library, name));
  return function != nullptr;
}

/// Nothing where the library is missing or lacks a function.
const Heif* opened() {
  static const std::unique_ptr<const Heif> heif = [] {
    auto all = std::make_unique<Heif>();
    void* library = dlopen(kLibrary, RTLD_NOW | RTLD_LOCAL);
    const bool whole = library && find(library, "heif_context_alloc", all->context_alloc) &&
                       find(library, "heif_context_free", all->context_free) &&
                       find(library, "heif_context_set_maximum_image_size_limit", all->set_size_limit) &&
                       find(library, "heif_context_set_max_decoding_threads", all->set_threads) &&
                       find(library, "heif_context_read_from_memory_without_copy", all->read) &&
                       find(library, "heif_context_get_primary_image_handle", all->primary) &&
                       find(library, "heif_image_handle_release", all->handle_release) &&
                       find(library, "heif_image_handle_get_width", all->width) &&
                       find(library, "heif_image_handle_get_height", all->height) &&
                       find(library, "heif_decoding_options_alloc", all->options_alloc) &&
                       find(library, "heif_decoding_options_free", all->options_free) &&
                       find(library, "heif_decode_image", all->decode) &&
                       find(library, "heif_image_release", all->image_release) &&
                       find(library, "heif_image_get_width", all->image_width) &&
                       find(library, "heif_image_get_height", all->image_height) &&
                       find(library, "heif_image_get_plane_readonly", all->plane) &&
                       find(library, "heif_image_get_decoding_warnings", all->warnings);
    if (!whole) all.reset();
    return std::unique_ptr<const Heif>(std::move(all));
  }();
  return heif.get();
}

const Heif& library() {
  if (const Heif* heif = opened()) return *heif;
  throw PictureError(
      "To read a HEIC the library libheif is needed: install the package libheif1, or let the telephone save "
      "JPEG.");
}

void need(const heif_error& error) {
  if (error.code == heif_error_Ok) return;
  if (error.code == heif_error_Unsupported_feature || error.code == heif_error_Unsupported_filetype)
    refuse_kind(PictureFormat::heic, error.message);
  refuse_damaged(PictureFormat::heic, error.message);
}

/// A file opened, its main picture not yet decoded.
class Container {
 public:
  Container(Bytes file, int side_px) : heif_(library()), context_(heif_.context_alloc(), heif_.context_free) {
    heif_.set_size_limit(context_.get(), side_px);
    heif_.set_threads(context_.get(), 2);
    need(heif_.read(context_.get(), file.data(), file.size(), nullptr));
    heif_image_handle* handle = nullptr;
    need(heif_.primary(context_.get(), &handle));
    handle_ = {handle, heif_.handle_release};
  }

  Stated stated() const {
    return {.width_px = heif_.width(handle_.get()), .height_px = heif_.height(handle_.get())};
  }

  Photo decoded(const Stated& stated, int at_most_px) const {
    const std::unique_ptr<heif_decoding_options, decltype(&heif_decoding_options_free)> options(
        heif_.options_alloc(), heif_.options_free);
    if (options) {
      options->convert_hdr_to_8bit = 1;
      if (options->version >= 3) options->strict_decoding = 1;
    }
    heif_image* decoded = nullptr;
    need(heif_.decode(handle_.get(), &decoded, heif_colorspace_RGB, heif_chroma_interleaved_RGBA,
                      options.get()));
    const std::unique_ptr<heif_image, void (*)(const heif_image*)> image(decoded, heif_.image_release);
    if (heif_.warnings(decoded, 0, nullptr, 0) > 0)
      refuse_damaged(PictureFormat::heic, "its data is not what its header says");
    int stride = 0;
    const std::uint8_t* rows = heif_.plane(decoded, heif_channel_interleaved, &stride);
    if (!rows || heif_.image_width(decoded, heif_channel_interleaved) != stated.width_px ||
        heif_.image_height(decoded, heif_channel_interleaved) != stated.height_px ||
        stride < 4 * stated.width_px)
      refuse_damaged(PictureFormat::heic, "it states two sizes");
    RowSink sink(stated, RowSink::reduced(stated, at_most_px));
    std::vector<std::uint8_t> rgb(static_cast<std::size_t>(stated.width_px) * 3);
    for (std::int64_t y = 0; y < stated.height_px; ++y) {
      const std::uint8_t* row = rows + y * stride;
      for (std::size_t x = 0; x < rgb.size() / 3; ++x) put_over_white(row + 4 * x, &rgb[3 * x]);
      sink.add_row(rgb.data());
    }
    return sink.take();
  }

 private:
  const Heif& heif_;
  std::unique_ptr<heif_context, decltype(&heif_context_free)> context_;
  std::unique_ptr<const heif_image_handle, decltype(&heif_image_handle_release)> handle_{nullptr, nullptr};
};

}  // namespace

Stated heic_stated(Bytes file) {
  return Container(file, PictureLimits{}.side_px).stated();
}

Photo read_heic(const Job& job, const Stated& stated) {
  // Planes as decoded (1.5 bytes a pixel, twice while tiles are joined) and the picture of four bytes a
  // pixel.
  const auto pixels = static_cast<std::uint64_t>(stated.width_px * stated.height_px);
  job.check_memory(stated, pixels * 8);
  return Container(job.file, job.limits.side_px).decoded(stated, job.at_most_px);
}

}  // namespace haftwright::pictures
