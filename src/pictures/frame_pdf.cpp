// The printed frame as a PDF of one page: areas and one line of words, so that any viewer prints it at true
// size (ISO 32000-1:2008; the print dialogue is asked not to scale).
#include <glm/common.hpp>

#include <string>
#include <vector>

#include "haftwright/pictures/frame.hpp"
#include "number_text.hpp"

namespace haftwright {
namespace {

using pictures::number;

constexpr double kPointsPerMm = 72 / 25.4;
/// Handles of a Bezier curve for a quarter of a circle, in radii: off by 0.03 % of the radius at most.
constexpr double kQuarter = 0.5522847498;

std::string box(const Bounds& bounds) {
  return number(bounds.low.x) + " " + number(bounds.low.y) + " " + number(bounds.size().x) + " " +
         number(bounds.size().y) + " re f\n";
}

std::string disc(Vec2 middle, double radius) {
  const auto at = [&](double x, double y) {
    return number(middle.x + radius * x) + " " + number(middle.y + radius * y) + " ";
  };
  std::string path = at(1, 0) + "m\n";
  Vec2 from{1, 0};
  for (int quarter = 0; quarter < 4; ++quarter) {
    const Vec2 to = turned_left(from);
    const Vec2 first = from + kQuarter * to;
    const Vec2 second = to + kQuarter * from;
    path += at(first.x, first.y) + at(second.x, second.y) + at(to.x, to.y) + "c\n";
    from = to;
  }
  return path + "f\n";
}

/// In millimetres from the lower left corner.
std::string page(const FrameDrawing& frame) {
  const Vec2 a = frame.line_from;
  const Vec2 b = frame.line_to;
  std::string text = number(kPointsPerMm) + " 0 0 " + number(kPointsPerMm) + " 0 0 cm\n0 g\n" +
                     box(frame.band_outer) + "1 g\n" + box(frame.band_inner);
  for (const Vec2 dot : frame.dots) text += disc(dot, frame.dot_radius_mm);
  text += "0 g\n" + box({{a.x, a.y - 0.15}, {b.x, a.y + 0.15}}) +
          box({{a.x, a.y - 1.5}, {a.x + 0.3, a.y + 1.5}}) + box({{b.x - 0.3, a.y - 1.5}, {b.x, a.y + 1.5}});
  text += "BT /F1 3 Tf " + number(a.x) + " " + number(a.y - 5) +
          " Td (The line above is 100 mm long, ticks included. Print at true size, and measure it.) Tj ET\n";
  return text;
}

}  // namespace

std::string frame_pdf(FrameSize size) {
  const FrameDrawing frame = frame_drawing(size);
  const std::string content = page(frame);
  // To a ten-thousandth: 8.5 in are 612 points and no hair more.
  const Vec2 points = glm::round(frame.sheet_mm * kPointsPerMm * 1e4) / 1e4;
  const std::vector<std::string> objects{
      "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>",
      "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
      "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 " + number(points.x) + " " + number(points.y) +
          "] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>",
      "<< /Length " + std::to_string(content.size()) + " >>\nstream\n" + content + "endstream",
      "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"};
  std::string pdf = "%PDF-1.6\n";
  std::string places = "0000000000 65535 f \n";
  for (std::size_t i = 0; i < objects.size(); ++i) {
    const std::string place = std::to_string(pdf.size());
    places += std::string(10 - place.size(), '0') + place + " 00000 n \n";
    pdf += std::to_string(i + 1) + " 0 obj\n" + objects[i] + "\nendobj\n";
  }
  const std::string count = std::to_string(objects.size() + 1);
  const std::string start = std::to_string(pdf.size());
  return pdf + "xref\n0 " + count + "\n" + places + "trailer\n<< /Size " + count +
         " /Root 1 0 R >>\nstartxref\n" + start + "\n%%EOF\n";
}

}  // namespace haftwright
