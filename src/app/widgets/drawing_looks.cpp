#include "drawing_looks.hpp"

namespace haftwright::app {
namespace {

constexpr auto kInk = &Palette::ink;
constexpr auto kFaint = &Palette::faint_ink;
constexpr auto kPaper = &Palette::paper;
constexpr auto kSelected = &Palette::selected;

constexpr RoleLook kLooks[] = {{Role::material, {}, {}},  // its own colour
                               {Role::steel, {&Palette::steel}, {}},
                               {Role::plate, {&Palette::grid}, {}},
                               {Role::marking, {kFaint, 0x60}, {}},
                               {Role::defect, {&Palette::fail, 0x60}, {&Palette::fail}, 1.2F},
                               {Role::visible_edge, {}, {kInk}, 1.8F},
                               {Role::soft_edge, {}, {kInk, 0x50}, 1.2F},
                               {Role::contour, {}, {kInk, 0xB0}, 1.4F},
                               {Role::hidden_edge, {}, {kFaint}, 1.2F, true},
                               {Role::context_edge, {}, {kFaint}, 1},
                               {Role::centre_line, {}, {kInk, 0x38}, 1, true},
                               {Role::projection_line, {}, {kFaint}, 1.2F, true},
                               {Role::joint_line, {}, {kInk}, 1.5F, false, 3},
                               {Role::hidden_joint_line, {}, {kFaint}, 1.2F, true},
                               {Role::set_line, {}, {kSelected}, 2},
                               {Role::saw_cut, {}, {kInk}, 1.4F, true},
                               {Role::opening, {kPaper}, {kInk}, 1.2F},
                               {Role::cutout, {}, {kInk}, 1.4F, true, 3},
                               {Role::hole, {}, {kInk}, 1.4F},
                               {Role::inner_hole, {}, {kFaint}, 1},
                               {Role::steel_hole, {}, {kInk}, 1, true},
                               {Role::given_hole, {}, {&Palette::handle}, 1.8F, true},
                               {Role::pin, {&Palette::pin}, {}},
                               {Role::pin_bore, {kPaper}, {}},
                               {Role::fence, {&Palette::steel}, {kInk}, 1.2F},
                               {Role::hole_inside, {}, {kInk, 0x70}, 1},
                               {Role::given_hole_inside, {}, {&Palette::handle}, 1.4F, true},
                               {Role::cutout_inside, {kPaper, 0x90}, {kInk}, 1.2F, true},
                               {Role::pin_inside, {&Palette::pin, 0x80}, {}},
                               {Role::pin_bore_inside, {kPaper, 0xA0}, {}},
                               {Role::caption, {}, {kFaint}, 1},
                               {Role::dimension, {}, {kFaint, 0xC8}, 1},
                               {Role::chosen_dimension, {}, {kSelected}, 1.6F},
                               {Role::measured_place, {kSelected}, {}},
                               {Role::chosen, {}, {kSelected}, 2},
                               {Role::alignment, {}, {kSelected}, 1.2F, true},
                               {Role::finding_pass, {}, {&Palette::pass}, 2},
                               {Role::finding_near, {}, {&Palette::near}, 2},
                               {Role::finding_fail, {}, {&Palette::fail}, 2},
                               {Role::spread, {&Palette::spread}, {}},
                               {Role::limit, {}, {&Palette::fail}, 1.8F, true, 3},
                               {Role::zone_pass, {}, {&Palette::pass, 0x90}, 1.2F},
                               {Role::zone_near, {&Palette::near, 0x28}, {&Palette::near}, 2},
                               {Role::zone_fail, {&Palette::fail, 0x28}, {&Palette::fail}, 2}};

static_assert(in_order_of_roles(kLooks));

}  // namespace

const RoleLook& look_of(Role role) {
  return kLooks[static_cast<std::size_t>(role)];
}

}  // namespace haftwright::app
