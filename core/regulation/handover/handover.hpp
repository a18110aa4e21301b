// The page for the owner and the sheet for the file, composed as values.
//
// Nothing is said that was not read or reckoned; each figure comes with what it means.
#pragma once

#include "core/regulation/account/account.hpp"
#include "core/regulation/handover/page.hpp"
#include "core/regulation/handover/said.hpp"
#include "core/regulation/touch/touch.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten {

// When the share of notes outside tolerance is expected to pass the limit.
struct ComeBack {
  enum class State : std::uint8_t { due_at, overdue, beyond, unknown } state = State::unknown;
  CivilDay day = {};                  // of due_at
  std::optional<CivilDay> low, high;  // 90 % lie between; nothing: beyond two years
  double limit = 0.2;                 // share of notes
  int visits = 0;                     // it rests on
};

struct HandoverFacts {
  std::string piano, place;
  Compass compass;
  std::vector<Section> sections;
  Targets targets;
  std::string visit;  // its title, may be empty
  std::optional<CivilDay> from, to;
  std::vector<std::string> who;
  Account account;
  PreparationGate gate;
  struct Remarked {
    std::optional<Key> key;
    std::string text;
    CivilDay day;
  };
  std::vector<Remarked> remarks;
  int readings_left = 0, moves_left = 0;
  double minutes_left = 0;
  std::string profile;  // whose figures the model has
  bool profile_chosen = false;
  std::vector<Touch> touch;  // rising; empty: nothing is claimed
  std::string owner_words, next_visit;
  std::optional<ComeBack> come_back;
  // Which instrument took which readings.
  struct Gauge {
    std::string name;
    std::vector<Reading> readings;
  };
  std::vector<Gauge> gauges;
};

ComposedPage compose_owner_page(const HandoverFacts& facts, PageStyle style);
ComposedPage compose_file_sheet(const HandoverFacts& facts, PageStyle style);

// The notes a comparison before and after may name: read as found and known now, up the keys.
std::vector<const NoteAccount*> compared_notes(const Account& account, Reading reading);

}  // namespace batten
