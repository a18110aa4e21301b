// An SVG drawing as text, written by hand: real words, a title and a description for those who
// cannot see it, colours by class so that a dark screen gets its own.
#pragma once

#include "core/mechanism/mechanism.hpp"

#include <span>
#include <string>
#include <string_view>

namespace batten::svg {

using mechanism::Point;

// "12.34" with at most two decimals, no trailing zeros, the same in every locale.
std::string number(double value);
// For element content and attributes: & < > " written out, control characters left out.
std::string escaped(std::string_view text);

// All coordinates in the drawing's own units (pixels at its natural size), y downward. Classes are
// those of the style sheet in svg.cpp.
class Drawing {
 public:
  Drawing(double width, double height, std::string_view title, std::string_view description);

  void line(Point a, Point b, std::string_view style);
  void polyline(std::span<const Point> points, std::string_view style);
  void polygon(std::span<const Point> points, std::string_view style);
  void circle(Point centre, double radius, std::string_view style);
  void rectangle(Point corner, double width, double height, std::string_view style);
  void text(Point at, std::string_view words, std::string_view style);
  // Words turned a quarter to the left, for the name of an upright axis.
  void upright_text(Point at, std::string_view words, std::string_view style);
  // From tail to tip.
  void arrow(Point tail, Point tip, std::string_view style);
  // What follows until close() belongs together and is named so.
  void open(std::string_view title);
  // Likewise, shown only inside the rectangle.
  void open_clipped(std::string_view title, Point corner, double width, double height);
  void close();

  // The whole file.
  std::string finish() const;

 private:
  std::string head_, body_;
  int clips_ = 0;
};

}  // namespace batten::svg
