// Writes the table of outside checks (docs/theory/action-checks.md), or compares it with the one
// that is kept: a check that comes out otherwise fails until the table, and so the documentation,
// is written anew.
#include "checks.hpp"
#include "slow_checks.hpp"

#include <fmt/format.h>

#include <fstream>
#include <iostream>
#include <map>
#include <sstream>
#include <utility>

namespace batten::action::checks {
namespace {

struct Count {
  int holds = 0, all = 0;
};

std::string table(const std::vector<Check>& rows) {
  std::map<std::string, Count> by_id;
  Count fitted, held_back;
  for (const Check& c : rows) {
    for (Count* count : {&by_id[c.id], c.fitted ? &fitted : &held_back}) {
      count->all += 1;
      count->holds += c.holds ? 1 : 0;
    }
  }
  std::string out =
      "# One note against the outside world\n\n"
      "Written by `write_action_checks`; a test compares it with what the code gives. What the "
      "rows "
      "compare, and which\nwere looked at while dimensions and fingers were chosen (\"fitted\"), "
      "is "
      "explained in [action.md](action.md); a row that\nmisses says by how much. Sources: "
      "[sources.md](sources.md).\n\n";
  out += fmt::format(
      "Of {} checks {} hold. Looked at while choosing: {} of {} hold. Held back: {} of {} "
      "hold.\n\n",
      fitted.all + held_back.all, fitted.holds + held_back.holds, fitted.holds, fitted.all,
      held_back.holds, held_back.all);
  out += "| row | holds | of |\n|---|---:|---:|\n";
  for (const auto& [id, count] : by_id)
    out += fmt::format("| {} | {} | {} |\n", id, count.holds, count.all);
  out += "\n| row | what | source | expected | obtained | verdict |\n|---|---|---|---|---|---|\n";
  for (const Check& c : rows)
    out += fmt::format("| {} | {} | {} | {} | {} | {}{} |\n", c.id, c.what, c.source, c.expected,
                       c.obtained, c.holds ? "holds" : "**misses**", c.fitted ? ", fitted" : "");
  return out;
}

std::string read(const std::string& file) {
  std::ifstream in(file);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

int run(int count, char** words) {
  if (count < 2) {
    std::cerr << "usage: write_action_checks FILE [KEPT]\n";
    return 2;
  }
  std::vector<Check> rows = slow_checks();
  for (Check& c : stroke_checks()) rows.push_back(std::move(c));
  const std::string now = table(rows);
  std::ofstream(words[1]) << now;
  if (count < 3 || now == read(words[2])) return 0;
  std::cerr << words[2] << " is not what the code gives; see " << words[1]
            << " and run the target action_checks.\n";
  return 1;
}

}  // namespace
}  // namespace batten::action::checks

int main(int count, char** words) { return batten::action::checks::run(count, words); }
