#include "cli/read_series.hpp"

#include "app/entries.hpp"
#include "app/line_job.hpp"
#include "app/readings.hpp"
#include "cli/history_text.hpp"
#include "cli/json.hpp"
#include "cli/line_text.hpp"
#include "cli/terminal.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <iostream>
#include <optional>

namespace batten::cli {

namespace {

// Gauges end their lines with CR LF and may pad them.
std::string trimmed(const std::string& line) {
  const char* blanks = " \t\r\n";
  const auto from = line.find_first_not_of(blanks);
  if (from == std::string::npos) return {};
  return line.substr(from, line.find_last_not_of(blanks) - from + 1);
}

class Series {
 public:
  Series(Desk& desk, const Piano& piano, const Common& common, const ReadWords& words,
         std::vector<Key> keys)
      : desk_(desk), piano_(piano), common_(common), words_(words), keys_(std::move(keys)) {}

  int run() {
    std::string line;
    while (at_ < keys_.size()) {
      if (input_is_terminal()) {
        std::cerr << note_name(keys_[at_]) << "  ";
        std::cerr.flush();
      }
      if (!std::getline(std::cin, line)) break;
      const Step step = take(trimmed(line));
      if (step == Step::stop) break;
      if (step == Step::failed) return stopped();
    }
    return finish();
  }

 private:
  enum class Step { on, stop, failed };

  Step take(std::string text) {
    if (text == "stop") return Step::stop;
    if (text == "back") return back();
    if (text == "again") {
      if (at_ > 0) --at_;
      return Step::on;
    }
    if (text.empty() || text == "-") {
      ++at_;
      return Step::on;
    }
    if (!go_to_named_note(text)) return Step::failed;
    if (text.empty()) return Step::on;  // a note alone: its value comes with the next line
    ReadingRequest request{words_.words[0], note_name(keys_[at_]), text, words_.uncertainty,
                           words_.gauge};
    auto kept = take_reading(desk_, piano_, request);
    if (!kept) return refuse(kept.error());
    last_ = kept->id;
    ++count_;
    ++at_;
    say(common_.json ? to_json(*kept) : "kept: " + entry_text(kept->content));
    return Step::on;
  }

  // "C4 45.2" or "C4": the note leads, the value (if any) stays in `text`.
  bool go_to_named_note(std::string& text) {
    if (std::isalpha(static_cast<unsigned char>(text[0])) == 0) return true;
    const auto gap = text.find_first_of(" \t:;,=");
    const auto key = parse_key(text.substr(0, gap));
    if (!key) return true;  // not a note: the value's own reader says what it is
    const auto place = std::find(keys_.begin(), keys_.end(), *key);
    if (place == keys_.end()) {
      refuse({note_name(*key) + " is not in this series.",
              {},
              "Read it by itself, or widen the series."});
      return input_is_terminal();
    }
    at_ = static_cast<std::size_t>(place - keys_.begin());
    text = gap == std::string::npos ? "" : trimmed(text.substr(gap + 1));
    return true;
  }

  Step back() {
    if (!last_) {
      say_aside("There is nothing in this series to take back.");
      return Step::on;
    }
    auto undone = undo(desk_, piano_, to_text(*last_));
    if (!undone) return refuse(undone.error());
    say_aside("taken back: " + entry_text(undone->content));
    last_.reset();
    --count_;
    if (at_ > 0) --at_;
    return Step::on;
  }

  Step refuse(const Problem& problem) {
    tell(problem, common_.json);
    return input_is_terminal() ? Step::on : Step::failed;
  }

  int stopped() const {
    say_aside(fmt::format("Stopped at {}: {} readings before it are kept. Go on with --from {}.",
                          note_name(keys_[at_]), count_, note_name(keys_[at_])));
    return not_done;
  }

  int finish() {
    if (common_.json) return done;
    say(fmt::format("{} {} kept{}.", count_, count_ == 1 ? "reading" : "readings",
                    at_ < keys_.size() ? ", next would be " + note_name(keys_[at_]) : ""));
    const auto id = reading_by_code(words_.words[0]);
    if (id && *id == Reading::string_height)
      if (auto line = draw_line(desk_, piano_)) say(look_first_text(*line, common_.inches));
    return done;
  }

  Desk& desk_;
  const Piano& piano_;
  const Common& common_;
  const ReadWords& words_;
  std::vector<Key> keys_;
  std::size_t at_ = 0;
  int count_ = 0;
  std::optional<Uuid> last_;
};

}  // namespace

int read_series(Desk& desk, const Piano& piano, const Common& common, const ReadWords& words) {
  const SeriesOf which = words.samples    ? SeriesOf::samples
                         : words.naturals ? SeriesOf::naturals
                         : words.sharps   ? SeriesOf::sharps
                                          : SeriesOf::all;
  auto keys = plan_series(desk, piano, words.from, words.to, which);
  if (!keys) {
    tell(keys.error(), common.json);
    return not_done;
  }
  // An unknown reading is told before the first value, not after it.
  if (auto probe = check_reading(piano, {words.words[0], note_name(keys->front()), "1", {}, {}});
      !probe && !reading_by_code(words.words[0])) {
    tell(probe.error(), common.json);
    return not_done;
  }
  return Series(desk, piano, common, words, std::move(*keys)).run();
}

}  // namespace batten::cli
