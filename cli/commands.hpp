// One function per command: calls app/, prints words or JSON, returns the exit code.
#pragma once

#include "cli/command_line.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten::cli {

struct AddWords {
  std::string name, place, sections, lowest = "A0", highest = "C8";
};
struct ReadWords {
  std::vector<std::string> words;  // reading [note] [value]
  std::string from, to, uncertainty, gauge;
  bool naturals = false, sharps = false, samples = false;
};
struct MoveWords {
  std::string note, amount, adjuster = "capstan", remark;
};
struct PrepareWords {
  std::string item, state, note, reason;
};
struct TableWords {
  std::string file;
  bool take_good = false;                                             // import
  bool wide = false, semicolon = false, comma = false, mark = false;  // export
};
struct SheetWords {
  std::string file;  // empty: "line-sheet.pdf" or "plan-sheet.pdf"
  bool plan = false;
  std::string pass, language;
  bool bench = false, large = false;  // bench sheets, as with a pass
  bool letter = false, picture = false, decimal_comma = false;
  int page = 1;
  double dpi = 150;
};
struct LineWords {
  bool all = false;  // every note, also when there is nothing to do
};

int demo(const Common& common);
int pianos(const Common& common);
int add(const Common& common, const AddWords& words);
int visit(const Common& common, const std::string& title);
int set(const Common& common, const std::string& name, const std::string& value);
int prepare(const Common& common, const PrepareWords& words);
int read(const Common& common, const ReadWords& words);
int turned(const Common& common, const MoveWords& words);
int remark(const Common& common, const std::string& note, const std::string& text);
int import(const Common& common, const TableWords& words);
int export_readings(const Common& common, const TableWords& words);
int line(const Common& common, const LineWords& words);
int sheet(const Common& common, const SheetWords& words);
int history(const Common& common, int most);
int undo(const Common& common, const std::string& identity);
int undo_step(const Common& common);

}  // namespace batten::cli
