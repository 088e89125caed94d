#include "haftwright/edits/shop_values.hpp"

#include <algorithm>
#include <optional>

#include "haftwright/design/field_path.hpp"
#include "haftwright/design/shop_schema.hpp"
#include "haftwright/reference/drills.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

/// What sections and lists have in common for the visitors below: lists are the shop's alone.
class SectionVisitor {
 public:
  template <class... Any>
  void list(Any&&...) {}

 protected:
  template <class Visitor, class Section>
  void enter(Visitor& visitor, std::string_view key, Section& section) {
    path_.within(key, [&] { visit_fields(visitor, section); });
  }
  std::string path_of(std::string_view key) {
    std::string path;
    path_.within(key, [&] { path = path_.text(); });
    return path;
  }

 private:
  schema::FieldPath path_;
};

/// Notes every field of the sections.
class FieldLister : public SectionVisitor {
 public:
  std::vector<ShopValue> fields;
  std::vector<std::string> sections;

  void number(std::string_view key, const schema::Quantity& quantity, schema::Need, double value,
              std::string_view what) {
    fields.push_back({path_of(key), what, quantity.unit, value});
  }
  void number(std::string_view key, const schema::Quantity& quantity, const std::optional<double>& value,
              std::string_view what) {
    fields.push_back({path_of(key), what, quantity.unit, value ? FieldValue(*value) : FieldValue()});
  }
  void flag(std::string_view key, bool value, std::string_view what) {
    fields.push_back({path_of(key), what, {}, value});
  }
  template <class Names, class Value>
  void choice(std::string_view key, const Names& names, const Value& value, std::string_view what) {
    for (const auto& named : names)
      if (named.value == value) fields.push_back({path_of(key), what, {}, std::string(named.name)});
  }
  template <class Section>
  void section(std::string_view key, schema::Need, const Section& section, std::string_view) {
    sections.push_back(path_of(key));
    enter(*this, key, section);
  }
};

/// Sets those fields that it was given.
class FieldSetter : public SectionVisitor {
 public:
  explicit FieldSetter(const std::vector<ShopValue>& given) : given_(given) {}

  void number(std::string_view key, const schema::Quantity&, schema::Need, double& value, std::string_view) {
    if (const ShopValue* field = find(key)) value = std::get<double>(field->value);
  }
  void number(std::string_view key, const schema::Quantity&, std::optional<double>& value, std::string_view) {
    const ShopValue* field = find(key);
    if (!field) return;
    const double* number = std::get_if<double>(&field->value);
    value = number ? std::optional(*number) : std::nullopt;
  }
  void flag(std::string_view key, bool& value, std::string_view) {
    if (const ShopValue* field = find(key)) value = std::get<bool>(field->value);
  }
  template <class Names, class Value>
  void choice(std::string_view key, const Names& names, Value& value, std::string_view) {
    const ShopValue* field = find(key);
    if (!field) return;
    for (const auto& named : names)
      if (named.name == std::get<std::string>(field->value)) value = named.value;
  }
  template <class Section>
  void section(std::string_view key, schema::Need, Section& section, std::string_view) {
    enter(*this, key, section);
  }

 private:
  const ShopValue* find(std::string_view key) {
    const auto found = std::ranges::find(given_, path_of(key), &ShopValue::field);
    return found == given_.end() ? nullptr : &*found;
  }
  const std::vector<ShopValue>& given_;
};

/// The part of a project that a shop has too.
Shop shop_part(const Design& design) {
  Shop part;
  part.adhesive = design.adhesive;
  part.guide = design.guide;
  part.rules = design.rules;
  part.drilling = design.drilling;
  return part;
}

void put_shop_part(const Shop& part, Design& design) {
  design.adhesive = part.adhesive;
  static_cast<GuideHabits&>(design.guide) = part.guide;
  design.rules = part.rules;
  static_cast<DrillingHabits&>(design.drilling) = part.drilling;
}

FieldLister listed(const Shop& shop) {
  FieldLister lister;
  visit_fields(lister, shop);
  return lister;
}

bool wanted(const std::string& path, const ShopFields& fields) {
  return fields.empty() || std::ranges::any_of(fields, [&](const std::string& field) {
           return path == field || path.starts_with(field + ".");
         });
}

void take_over(const Shop& from, const ShopFields& fields, Shop& to) {
  std::vector<ShopValue> given = shop_values(from);
  std::erase_if(given, [&](const ShopValue& value) { return !wanted(value.field, fields); });
  FieldSetter setter(given);
  visit_fields(setter, to);
}

bool is_metal(const Material* material) {
  return material && material->kind == MaterialKind::metal;
}

/// What a hole goes through, side by side.
std::vector<std::string> materials_of(const Design& design, HoleSize Pin::*hole) {
  std::vector<std::string> keys;
  if (hole == &Pin::tang_hole) return {design.tang.material};
  for (const Side& side : {design.left, design.right_side()}) {
    if (hole == &Pin::scale_hole)
      for (const Piece& piece : side.pieces) keys.push_back(piece.material);
    else
      for (const Sheet& liner : side.liners) keys.push_back(liner.material);
  }
  return keys;
}

bool makes_its_hole_in(const OwnedDrill& owned, const Design& design, const std::vector<std::string>& keys) {
  if (owned.measured_in.empty()) return true;
  const bool metal = is_metal(find_material(owned.measured_in));
  return std::ranges::all_of(keys,
                             [&](const std::string& key) { return is_metal(design.material(key)) == metal; });
}

/// What the shop has measured for such a hole; none where it has not, or where the hole says it itself.
std::optional<double> measured_mm(const Design& design, const Shop& shop, const Pin& pin,
                                  HoleSize Pin::*hole) {
  const HoleSize& size = pin.*hole;
  const auto drill = size.diameter_mm ? std::nullopt : find_drill(size.drill);
  if (!drill) return std::nullopt;
  const std::vector<std::string> keys = materials_of(design, hole);
  for (const OwnedDrill& owned : shop.drills)
    if (const auto own = find_drill(owned.drill); own && own->label == drill->label && owned.diameter_mm)
      if (makes_its_hole_in(owned, design, keys)) return owned.diameter_mm;
  return std::nullopt;
}

}  // namespace

std::vector<ShopValue> shop_values(const Shop& shop) {
  return listed(shop).fields;
}

std::string value_words(const FieldValue& value, std::string_view unit, LengthUnit shown) {
  if (const auto* word = std::get_if<std::string>(&value)) return *word;
  if (const auto* flag = std::get_if<bool>(&value)) return *flag ? "true" : "false";
  const auto* number = std::get_if<double>(&value);
  if (!number) return "left out";
  std::string text = shortest_number(*number);
  if (!unit.empty()) text.append(" ").append(unit);
  if (unit == "mm" && shown != LengthUnit::millimetre) text += " (" + fine_length(*number, shown) + ")";
  return text;
}

std::vector<ShopDifference> differences(const Design& design, const Shop& shop) {
  const std::vector<ShopValue> project = shop_values(shop_part(design));
  const std::vector<ShopValue> own = shop_values(shop);
  std::vector<ShopDifference> unlike;
  for (std::size_t i = 0; i < own.size(); ++i)
    if (project[i].value != own[i].value)
      unlike.push_back({own[i].field, own[i].what, own[i].unit, project[i].value, own[i].value});
  return unlike;
}

std::string shop_field_problem(const std::string& field) {
  const FieldLister lister = listed(Shop{});
  std::vector<std::string> known = lister.sections;
  for (const ShopValue& each : lister.fields) known.push_back(each.field);
  if (std::ranges::find(known, field) != known.end()) return {};
  return "no field that projects share with the shop is called " + schema::quoted(field) +
         schema::did_you_mean(nearest_word(field, known));
}

Design with_shop_values(const Design& design, const Shop& shop, const ShopFields& fields) {
  Shop part = shop_part(design);
  take_over(shop, fields, part);
  Design edited = design;
  put_shop_part(part, edited);
  return edited;
}

Shop shop_with_project_values(const Shop& shop, const Design& design, const ShopFields& fields) {
  Shop edited = shop;
  take_over(shop_part(design), fields, edited);
  return edited;
}

std::vector<MeasuredHole> measured_holes(const Design& design, const Shop& shop) {
  constexpr schema::Named<HoleSize Pin::*> kHoles[] = {
      {"scale_hole", &Pin::scale_hole}, {"liner_hole", &Pin::liner_hole}, {"tang_hole", &Pin::tang_hole}};
  std::vector<MeasuredHole> found;
  for (std::size_t i = 0; i < design.pins.size(); ++i)
    for (const auto& [name, hole] : kHoles) {
      if (const auto diameter_mm = measured_mm(design, shop, design.pins[i], hole))
        found.push_back(
            {"pins[" + std::to_string(i) + "]." + std::string(name) + ".diameter_mm", i, hole, *diameter_mm});
    }
  return found;
}

Design with_measured_holes(const Design& design, const Shop& shop) {
  Design edited = design;
  for (const MeasuredHole& measured : measured_holes(design, shop))
    (edited.pins[measured.pin].*measured.hole).diameter_mm = measured.diameter_mm;
  return edited;
}

Design with_shop(const Design& design, const Shop& shop) {
  return with_measured_holes(with_shop_values(design, shop), shop);
}

}  // namespace haftwright
