// Standard output, standard error, colour and the progress bar.
#pragma once

#include "core/outcome/outcome.hpp"

#include <string>
#include <string_view>

namespace batten::cli {

// True where a person looks on and wants colour: a terminal that is not "dumb", and NO_COLOR not
// set (no-color.org). Colour never carries meaning alone.
bool colour_wanted();
bool input_is_terminal();

enum class Ink { plain, quiet, strong, move, doubt, stop };
// The text in that ink, or the text alone where colour is not wanted.
std::string inked(std::string_view text, Ink ink);

// To standard output, flushed; a line end is added where the text has none.
void say(std::string_view text);
void say_aside(std::string_view text);  // a line to standard error

// Tells a problem: as a sentence on standard error, or as {"problem": …} on standard output.
void tell(const Problem& problem, bool json);

// Padded on the right (or left) to `width` characters as a terminal counts them: UTF-8 code points.
std::string padded(std::string_view text, std::size_t width);
std::string right(std::string_view text, std::size_t width);
// Broken at blanks so that no line is longer than 98 characters; the first begins with `indent`,
// the others four blanks deeper. Every line ends.
std::string wrapped(std::string_view text, std::string_view indent);

// A bar on standard error for work that takes long; nothing where no one looks on.
class ProgressBar {
 public:
  explicit ProgressBar(std::string_view title);
  ~ProgressBar();
  ProgressBar(const ProgressBar&) = delete;
  ProgressBar& operator=(const ProgressBar&) = delete;
  void at(double share);  // 0…1

 private:
  std::string title_;
  bool shown_;
  int last_ = -1;
};

}  // namespace batten::cli
