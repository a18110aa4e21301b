// One sheet of paper that remembers its ink and its words.
//
// Lengths are points (1⁄72 in), from the top left corner, x to the right, y down. What is drawn is
// recorded, so that a page can be finished later ("page 1 of 3" is known only at the end), painted
// as PDF or PNG alike, and asked where its ink lies.
#pragma once

#include <cairomm/context.h>
#include <cairomm/surface.h>
#include <pangomm/layout.h>

#include <string>
#include <string_view>
#include <vector>

namespace batten::paper {

inline constexpr double mm = 72.0 / 25.4;

struct Box {
  double left = 0, top = 0, width = 0, height = 0;

  double right() const { return left + width; }
  double bottom() const { return top + height; }
  double middle() const { return top + height / 2; }
  bool holds(const Box& other, double slack = 0) const;
  // Touching edges do not count.
  bool meets(const Box& other) const;
};

// 0 is black, 1 is paper white. These survive a cheap printer.
inline constexpr double black = 0, quiet = 0.35, rule_grey = 0.6, band_grey = 0.87;

// Sizes in points. What is read at the piano is `reading` or larger; `small` is for scales, column
// heads and page feet.
inline constexpr double small = 8.5, scale_size = 9.5, reading = 11, strong = 12;

struct Type {
  double size = reading;
  bool bold = false;
  double grey = black;
};

enum class Align { left, centre, right };

// A line or paragraph as it was set.
struct TextMark {
  std::string text;
  Box cell;  // where it was allowed to be
  Box ink;   // where it is
  double size = 0;
  bool cut = false;  // ends in "…" because the cell had no room
};

class Page {
 public:
  Page(double width, double height);

  double width() const { return width_; }
  double height() const { return height_; }

  // One line, its capitals centred on the cell's middle; too long a text is cut with "…".
  void text(const Box& cell, std::string_view text, Type type = {}, Align align = Align::left);
  // Wrapped lines of `width`, beginning with `lead` in bold; at most `max_lines` (0: no limit), cut
  // with "…". Returns the height used; `paragraph_height` the same without drawing.
  double paragraph(double left, double top, double width, std::string_view lead,
                   std::string_view text, Type type = {}, int max_lines = 0);
  double paragraph_height(double width, std::string_view lead, std::string_view text,
                          Type type = {}, int max_lines = 0) const;
  double text_width(std::string_view text, Type type = {}) const;

  void line(double x1, double y1, double x2, double y2, double width = 0.5, double grey = black);
  void dashed(double x1, double y1, double x2, double y2, double width, double grey, double dash);
  void outline(const Box& box, double width = 0.5, double grey = black);
  void fill(const Box& box, double grey);
  // Diagonal strokes inside the box.
  void hatch(const Box& box, double spacing, double width, double grey);
  void polygon(const std::vector<std::pair<double, double>>& corners, double grey);
  void dot(double x, double y, double radius, double grey = black);
  void ring(double x, double y, double radius, double width = 0.8);
  // 5 mm square, white inside, top left corner given.
  void tick_box(double left, double top);

  // The whole picture inside the box, at its own aspect, against the box's left and top.
  void picture(const Box& box, const Cairo::RefPtr<Cairo::ImageSurface>& image);

  // For strokes the helpers above have no word for.
  const Cairo::RefPtr<Cairo::Context>& pen() const { return pen_; }

  const std::vector<TextMark>& texts() const { return texts_; }
  const std::vector<Box>& tick_boxes() const { return tick_boxes_; }
  Box ink() const;
  void paint(const Cairo::RefPtr<Cairo::Context>& target) const;

 private:
  Glib::RefPtr<Pango::Layout> set(std::string_view text, Type type) const;
  Glib::RefPtr<Pango::Layout> set_paragraph(double width, std::string_view lead,
                                            std::string_view text, Type type, int max_lines) const;
  void show(const Glib::RefPtr<Pango::Layout>& layout, double left, double top, Type type,
            const Box& cell);

  double width_, height_;
  Cairo::RefPtr<Cairo::RecordingSurface> surface_;
  Cairo::RefPtr<Cairo::Context> pen_;
  std::vector<TextMark> texts_;
  std::vector<Box> tick_boxes_;
};

inline constexpr double tick_size = 5 * mm;

}  // namespace batten::paper
