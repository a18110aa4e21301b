// Commands about the mechanism of one note.
#pragma once

#include "app/action_job.hpp"
#include "cli/command_line.hpp"

#include <array>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace batten::cli {

// What "action" and "stroke" have in common: which note, and what is moved from its setting.
struct NoteWords {
  std::vector<std::string> words;  // [piano, profile or file] note
  std::array<std::string, action::adjustment_count> moves;
  std::string draw;
};
struct ActionWords {
  NoteWords note;
  std::string depth, draw_press, draw_influence;
};
struct StrokeWords {
  NoteWords note;
  StrokeRequest request;
};
struct ProfilesWords {
  std::string name, output;
  bool all = false;
};

// The options of both; the adjusters by their codes.
void add_note_options(CLI::App& command, NoteWords& words);

int action(const Common& common, const ActionWords& words);
int stroke(const Common& common, const StrokeWords& words);
int profiles(const Common& common, const ProfilesWords& words);

}  // namespace batten::cli
