// What every call that takes a stock and a shape asks of them; each throws std::invalid_argument naming the
// field.
#pragma once

#include <span>
#include <string>

#include "haftwright/nesting/places.hpp"

namespace haftwright::nesting {

void check_polygon(const Polygon& polygon, const std::string& field);
void check_stock(const Stock& stock, const std::string& field);
void check_rules(const Rules& rules);
void check_place(Vec2 at_mm, const std::string& field);
void check_single(const Stock& stock, const Polygon& shape, std::span<const Angles> angles,
                  const Rules& rules, std::span<const Obstacle> obstacles);

}  // namespace haftwright::nesting
