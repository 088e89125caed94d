// For tests and pictures of the real window: which things stand where on the screen and what state the
// session is in, written after every frame as a small JSON file. Off, and free, unless the environment
// variable HAFTWRIGHT_PLACES names that file; DEVELOPERS.md describes it.
#pragma once

#include <imgui.h>

#include <string_view>

#include "haftwright/session/session.hpp"

namespace haftwright::app::places {

/// Whether there is such a file: for what costs something to be found out.
bool wanted();
/// Notes the item that was drawn last: `kind` "button", "field", "panel" ...; `name` as the person reads it;
/// `text` is what stands in it.
void item(const char* kind, std::string_view name, std::string_view text = {});
/// Notes something at a point of the window drawn in now.
void point(const char* kind, std::string_view name, ImVec2 at);
/// Notes what is open, asked and told.
void state(const Session& session);
/// After the frame is on the screen: writes the file. `resting`: no other frame comes before the next event.
void write(bool resting);

}  // namespace haftwright::app::places
