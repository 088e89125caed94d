#include "svg_looks.hpp"

namespace haftwright::drawing {
namespace {

struct Look {
  Role role;
  std::string_view style;
};

// Line widths in the ratio 2 to 1 that ISO 128 has for outlines and everything else, 0.5 and 0.25 mm (from
// memory). What is told by colour is told by dashes or width too, so that a black print still tells it.
constexpr Look kLooks[] = {
    {Role::material, "fill-opacity:.35"},
    {Role::steel, "fill:#d9dde1"},
    {Role::plate, "fill:#f0ede6"},
    {Role::marking, "fill:#c9c4bb"},
    {Role::defect, "fill:#be4400;fill-opacity:.35;stroke:#be4400;stroke-width:.18"},
    {Role::visible_edge, "stroke:#000;stroke-width:.5"},
    {Role::soft_edge, "stroke:#666;stroke-width:.18"},
    {Role::contour, "stroke:#333;stroke-width:.25"},
    {Role::hidden_edge, "stroke:#555;stroke-width:.25;stroke-dasharray:1.5 1"},
    {Role::context_edge, "stroke:#777;stroke-width:.25"},
    {Role::centre_line, "stroke:#555;stroke-width:.18;stroke-dasharray:4 1 .5 1"},
    {Role::projection_line, "stroke:#777;stroke-width:.18;stroke-dasharray:1 1"},
    {Role::joint_line, "stroke:#000;stroke-width:.35"},
    {Role::hidden_joint_line, "stroke:#555;stroke-width:.25;stroke-dasharray:1.5 1"},
    {Role::set_line, "stroke:#005a9c;stroke-width:.7"},
    {Role::saw_cut, "stroke:#000;stroke-width:.35;stroke-dasharray:3 1 .5 1"},
    {Role::opening, "fill:#fff;stroke:#000;stroke-width:.35"},
    {Role::cutout, "stroke:#000;stroke-width:.35;stroke-dasharray:1.5 1"},
    {Role::hole, "stroke:#000;stroke-width:.35"},
    {Role::inner_hole, "stroke:#777;stroke-width:.25"},
    {Role::steel_hole, "stroke:#000;stroke-width:.25;stroke-dasharray:1 .7"},
    {Role::given_hole, "stroke:#005a9c;stroke-width:.35;stroke-dasharray:1.5 .7"},
    {Role::pin, "fill:#d8c48e"},
    {Role::pin_bore, "fill:#fff"},
    {Role::fence, "fill:#c4ccd4;stroke:#000;stroke-width:.35"},
    {Role::hole_inside, "stroke:#777;stroke-width:.18"},
    {Role::given_hole_inside, "stroke:#005a9c;stroke-width:.25;stroke-dasharray:1.5 .7"},
    {Role::cutout_inside, "fill:#fff;fill-opacity:.6;stroke:#000;stroke-width:.25;stroke-dasharray:1.5 1"},
    {Role::pin_inside, "fill:#d8c48e;fill-opacity:.5"},
    {Role::pin_bore_inside, "fill:#fff;fill-opacity:.6"},
    {Role::caption, "fill:#000"},
    {Role::dimension, "stroke:#000;stroke-width:.18;color:#000"},
    {Role::chosen_dimension, "stroke:#005a9c;stroke-width:.35;color:#005a9c"},
    {Role::measured_place, "fill:#005a9c"},
    {Role::chosen, "stroke:#005a9c;stroke-width:.5;color:#005a9c"},
    {Role::alignment, "stroke:#005a9c;stroke-width:.25;stroke-dasharray:2 1;color:#005a9c"},
    {Role::finding_pass, "stroke:#007a5a;stroke-width:.25;color:#007a5a"},
    {Role::finding_near, "stroke:#b87600;stroke-width:.35;color:#b87600"},
    {Role::finding_fail, "stroke:#be4400;stroke-width:.5;color:#be4400"},
    {Role::spread, "fill:#6ebef5;fill-opacity:.5"},
    {Role::limit, "stroke:#be4400;stroke-width:.35;stroke-dasharray:1 .7"},
    {Role::zone_pass, "stroke:#007a5a;stroke-width:.18"},
    {Role::zone_near, "stroke:#b87600;stroke-width:.25;stroke-dasharray:2 .7"},
    {Role::zone_fail, "fill:#be4400;fill-opacity:.15;stroke:#be4400;stroke-width:.35"}};

static_assert(in_order_of_roles(kLooks));

}  // namespace

std::string_view style_of(Role role) {
  return kLooks[static_cast<std::size_t>(role)].style;
}

}  // namespace haftwright::drawing
