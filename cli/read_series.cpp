#include "cli/read_series.hpp"

#include "app/entries.hpp"
#include "app/line_job.hpp"
#include "app/readings.hpp"
#include "cli/history_text.hpp"
#include "cli/line_text.hpp"
#include "cli/terminal.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "json/journal_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <iostream>
#include <vector>

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
    // An empty line is a gauge's second line end or an impatient finger, not a note to pass over.
    if (text.empty()) return Step::on;
    if (text == "-") {
      ++at_;
      return Step::on;
    }
    if (!go_to_named_note(text)) return input_is_terminal() ? Step::on : Step::failed;
    if (text.empty()) return Step::on;  // a note alone: its value comes with the next line
    ReadingRequest request{words_.words[0], note_name(keys_[at_]), text, words_.uncertainty,
                           words_.gauge};
    auto kept = take_reading(desk_, piano_, request);
    if (!kept) return refuse(kept.error());
    taken_.push_back({kept->id, at_});
    ++at_;
    say(common_.json ? to_json_line(*kept) : "kept: " + entry_text(kept->content));
    return Step::on;
  }

  // "C4 45.2" or "C4": the note leads, the value (if any) stays in `text`. False when refused.
  bool go_to_named_note(std::string& text) {
    if (std::isalpha(static_cast<unsigned char>(text[0])) == 0) return true;
    const auto gap = text.find_first_of(" \t:;,=");
    const auto key = parse_key(text.substr(0, gap));
    if (!key) {
      refuse({"\"" + text + "\" is neither a value nor a note with its value.",
              {},
              "Type a value, \"C4 45.2\", - to skip, again, back or stop."});
      return false;
    }
    const auto place = std::find(keys_.begin(), keys_.end(), *key);
    if (place == keys_.end()) {
      refuse({note_name(*key) + " is not in this series.",
              {},
              "Read it by itself, or widen the series."});
      return false;
    }
    at_ = static_cast<std::size_t>(place - keys_.begin());
    text = gap == std::string::npos ? "" : trimmed(text.substr(gap + 1));
    return true;
  }

  Step back() {
    if (taken_.empty()) {
      say_aside("There is nothing in this series to take back.");
      return Step::on;
    }
    const Taken last = taken_.back();
    auto undone = undo(desk_, piano_, to_text(last.id));
    if (!undone) return refuse(undone.error());
    taken_.pop_back();
    at_ = last.place;
    say_aside("taken back: " + entry_text(undone->content));
    return Step::on;
  }

  Step refuse(const Problem& problem) {
    tell(problem, common_.json);
    return input_is_terminal() ? Step::on : Step::failed;
  }

  std::string count() const {
    return fmt::format("{} {}", taken_.size(), taken_.size() == 1 ? "reading" : "readings");
  }

  int stopped() const {
    say_aside(fmt::format("Stopped at {}: {} before it kept. Go on with --from {}.",
                          note_name(keys_[at_]), count(), note_name(keys_[at_])));
    return not_done;
  }

  int finish() {
    if (common_.json) return done;
    say(fmt::format("{} kept{}.", count(),
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
  struct Taken {
    Uuid id;
    std::size_t place;  // in keys_
  };
  std::vector<Taken> taken_;  // so far, those taken back left out
};

}  // namespace

int read_series(Desk& desk, const Piano& piano, const Common& common, const ReadWords& words) {
  // What cannot be a series is told before the first value, not after it.
  const auto id = reading_by_code(words.words[0]);
  if (!id || kind_of(*id).scope != Scope::per_note) {
    auto probe = check_reading(piano, {words.words[0], "", "", {}, {}});
    if (id)
      probe = problem("The " + std::string(kind_of(*id).name) + " is read once, not note by note.",
                      "Give its value: batten read " + std::string(kind_of(*id).code) + " VALUE.");
    tell(probe.error(), common.json);
    return not_done;
  }
  const SeriesOf which = words.samples    ? SeriesOf::samples
                         : words.naturals ? SeriesOf::naturals
                         : words.sharps   ? SeriesOf::sharps
                                          : SeriesOf::all;
  auto keys = plan_series(desk, piano, words.from, words.to, which);
  if (!keys) {
    tell(keys.error(), common.json);
    return not_done;
  }
  return Series(desk, piano, common, words, std::move(*keys)).run();
}

}  // namespace batten::cli
