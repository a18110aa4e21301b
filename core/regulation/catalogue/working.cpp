#include "core/regulation/catalogue/working.hpp"

#include "core/quantities/text.hpp"
#include "core/regulation/catalogue/pieces.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <string_view>

namespace batten {
namespace {

constexpr std::string_view tolerance_suffix = "-tolerance";
constexpr std::string_view minutes_suffix = "-minutes";
constexpr std::string_view limit_suffix = "-limit";

// Common practice, no source: on a stage everything is to be a shade closer, in a practice room
// half as far again will do.
struct GradeRow {
  Grade grade;
  std::string_view word;
  double scale;
};
constexpr std::array grades{
    GradeRow{Grade::stage, "stage", 0.8},
    GradeRow{Grade::house, "house", 1},
    GradeRow{Grade::lesson, "lesson", 1.5},
};

// Punchings as sets are sold, mm, from memory: papers below 0.2, cards above.
constexpr std::array common_papers{0.05, 0.08, 0.13, 0.18, 0.25, 0.4, 0.5, 0.8, 1.0};
// Thinner than any paper, thicker than a punching; estimates. More kinds than any tray has.
constexpr double thinnest_paper = 0.01, thickest_paper = 5;
constexpr std::size_t most_papers = 24;

constexpr double most_minutes = 60;
// A limit beyond so many times the tables' is a slip.
constexpr double most_limits = 5;

// To the letter: two spellings of one setting on record would leave open which holds.
template <class Kind>
const Kind* exact(std::span<const Kind> kinds, std::string_view code) {
  const auto it = std::ranges::find(kinds, code, &Kind::code);
  return it == kinds.end() ? nullptr : &*it;
}

// The code before `suffix`, or nothing.
std::string_view before(std::string_view name, std::string_view suffix) {
  return name.ends_with(suffix) ? name.substr(0, name.size() - suffix.size()) : std::string_view();
}

Result<double> parse_in(ReadingUnit unit, std::string_view text) {
  if (unit == ReadingUnit::millimetre) {
    auto length = parse_length(text);
    if (!length) return tl::unexpected(length.error());
    return length->in(millimetre);
  }
  if (unit == ReadingUnit::gram_force) {
    auto force = parse_force(text, gram_force);
    if (!force) return tl::unexpected(force.error());
    return force->in(gram_force);
  }
  return parse_number(text);
}

std::string print_in(ReadingUnit unit, double value) {
  const std::string_view symbol = unit_symbol(unit);
  return print_number(value) + (symbol.empty() ? "" : " " + std::string(symbol));
}

Result<void> set_grade(std::string_view value, WorkingCatalogue& out) {
  for (const GradeRow& row : grades) {
    if (trim(value) != row.word) continue;
    out.grade = row.grade;
    return {};
  }
  return problem("\"" + std::string(value) + "\" is no grade of work.",
                 "Say \"stage\", \"house\" or \"lesson\".");
}

Result<void> set_tolerance(const ReadingKind& kind, std::string_view value, WorkingCatalogue& out) {
  const std::string name(kind.name);
  if (!kind.tolerance_absolute)
    return problem("The " + name + " is measured, not set, and has no tolerance.", "Leave it out.");
  // ';' leaves commas free to be decimal marks.
  const auto pieces = split(value, value.find(';') == std::string_view::npos ? ',' : ';');
  const std::size_t wanted = kind.tolerance_neighbours ? 2 : 1;
  if (pieces.size() != wanted)
    return problem("\"" + std::string(value) + "\" is not the tolerance of the " + name + ".",
                   wanted == 2 ? "Write two figures, from the target and between neighbours, as in "
                                 "\"0.2, 0.1\" or \"0,2; 0,1\"."
                               : "Write one figure, from the target.");
  std::array<double, 2> figures{};
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    auto figure = parse_in(kind.unit, pieces[i]);
    if (!figure) return tl::unexpected(figure.error());
    figures[i] = *figure;
  }
  if (wanted == 1) figures[1] = figures[0];
  const double most = (kind.possible_high - kind.possible_low) / 4;
  if (!(figures[1] > 0 && figures[0] <= most))
    return problem("The " + name + " cannot be held to \"" + std::string(value) + "\".",
                   "A tolerance lies above 0, up to " + print_in(kind.unit, most) + ".");
  if (figures[1] > figures[0])
    return problem("Neighbours may not differ by more than a note from its target: \"" +
                       std::string(value) + "\".",
                   "Write the figure from the target first, as in \"0.2, 0.1\".");
  out.tolerances[static_cast<std::size_t>(kind.id)] = Tolerance{figures[0], figures[1]};
  return {};
}

Result<double> parse_minutes(std::string_view value) {
  auto time = parse_duration(value, minute);
  if (!time) return tl::unexpected(time.error());
  const double minutes = time->in(minute);
  if (!(minutes > 0 && minutes <= most_minutes))
    return problem("\"" + std::string(value) + "\" is no time for one note.",
                   "Write minutes above 0, up to 60, as in \"0.4\" or \"25 s\".");
  return minutes;
}

Result<void> set_reading_minutes(const ReadingKind& kind, std::string_view value,
                                 WorkingCatalogue& out) {
  auto minutes = parse_minutes(value);
  if (!minutes) return tl::unexpected(minutes.error());
  out.reading_minutes[static_cast<std::size_t>(kind.id)] = *minutes;
  return {};
}

Result<void> set_move_minutes(const AdjusterKind& kind, std::string_view value,
                              WorkingCatalogue& out) {
  auto minutes = parse_minutes(value);
  if (!minutes) return tl::unexpected(minutes.error());
  out.labours[static_cast<std::size_t>(kind.id)].minutes_move = *minutes;
  return {};
}

Result<double> parse_amount(MoveUnit unit, std::string_view text) {
  if (unit == MoveUnit::turns) {
    auto turns = parse_turns(text);
    if (!turns) return tl::unexpected(turns.error());
    return turns->in(turn);
  }
  if (unit == MoveUnit::millimetres) {
    auto length = parse_length(text);
    if (!length) return tl::unexpected(length.error());
    return length->in(millimetre);
  }
  return parse_number(text);
}

std::string print_amount(MoveUnit unit, double amount) {
  return unit == MoveUnit::turns ? print_turns(amount * turn)
                                 : print_number(amount) + " " + std::string(unit_name(unit));
}

Result<void> set_limit(const AdjusterKind& kind, std::string_view value, WorkingCatalogue& out) {
  auto limit = parse_amount(kind.unit, value);
  if (!limit) return tl::unexpected(limit.error());
  const double most = most_limits * kind.limit;
  if (!(*limit >= kind.hand_step && *limit <= most))
    return problem(
        "No " + std::string(kind.name) + " can be limited to \"" + std::string(value) + "\".",
        "A limit lies between " + print_amount(kind.unit, kind.hand_step) + ", the least a hand " +
            "can do, and " + print_amount(kind.unit, most) + ".");
  out.labours[static_cast<std::size_t>(kind.id)].most_each_way = *limit;
  return {};
}

// Between ';' where there is one, else between blanks, so that "0.05 0.08", "0,05 0,08" and
// "0.05, 0.08 mm" all read.
std::vector<std::string_view> paper_words(std::string_view value) {
  const bool marked = value.find(';') != std::string_view::npos;
  std::vector<std::string_view> words;
  for (std::string_view word : split(value, marked ? ';' : ' ')) {
    while (!word.empty() && word.back() == ',') word.remove_suffix(1);
    if (!word.empty() && word != "mm") words.push_back(word);
  }
  return words;
}

Result<void> set_papers(std::string_view value, WorkingCatalogue& out) {
  std::vector<double> papers;
  for (const std::string_view word : paper_words(value)) {
    auto paper = parse_length(word);
    if (!paper) return tl::unexpected(paper.error());
    const double mm = paper->in(millimetre);
    if (!(mm >= thinnest_paper && mm <= thickest_paper))
      return problem("No punching is \"" + std::string(word) + "\" thick.",
                     "Write thicknesses from 0.01 to 5 mm.");
    papers.push_back(mm);
  }
  std::ranges::sort(papers);
  papers.erase(std::ranges::unique(papers).begin(), papers.end());
  if (papers.empty() || papers.size() > most_papers)
    return problem("\"" + std::string(value) + "\" is not a set of papers.",
                   "Write up to 24 thicknesses in millimetres, as in \"0.05 0.08 0.13 0.25 0.5\".");
  out.papers = std::move(papers);
  return {};
}

// Nothing: not a name of this grammar.
std::optional<Result<void>> set(const std::string& name, const std::string& value,
                                WorkingCatalogue& out) {
  if (name == "papers") return set_papers(value, out);
  if (const auto* kind = exact(reading_kinds(), before(name, tolerance_suffix)))
    return set_tolerance(*kind, value, out);
  if (const auto* kind = exact(reading_kinds(), before(name, minutes_suffix)))
    return set_reading_minutes(*kind, value, out);
  if (const auto* kind = exact(adjuster_kinds(), before(name, minutes_suffix)))
    return set_move_minutes(*kind, value, out);
  if (const auto* kind = exact(adjuster_kinds(), before(name, limit_suffix)))
    return set_limit(*kind, value, out);
  return std::nullopt;
}

// The tables as they stand, tolerances scaled to the grade.
WorkingCatalogue tables(Grade grade) {
  const double scale = grades[static_cast<std::size_t>(grade)].scale;
  WorkingCatalogue w;
  w.grade = grade;
  w.papers.assign(common_papers.begin(), common_papers.end());
  for (const ReadingKind& kind : reading_kinds()) {
    std::optional<Tolerance> tolerance;
    if (kind.tolerance_absolute)
      tolerance = Tolerance{scale * *kind.tolerance_absolute,
                            scale * kind.tolerance_neighbours.value_or(*kind.tolerance_absolute)};
    w.tolerances.push_back(tolerance);
    w.reading_minutes.push_back(kind.minutes);
    w.uncertainties.push_back(kind.usual_uncertainty);
  }
  for (const AdjusterKind& kind : adjuster_kinds())
    w.labours.push_back(
        {kind.minutes_move, kind.minutes_set_up, kind.hand_step, kind.limit, kind.strain});
  return w;
}

tl::unexpected<Problem> about(const std::string& name, Problem p) {
  p.happened = "Setting " + name + ": " + p.happened;
  return tl::unexpected(std::move(p));
}

}  // namespace

std::optional<Tolerance> WorkingCatalogue::tolerance(Reading reading) const {
  const auto index = static_cast<std::size_t>(reading);
  assert(index < tolerances.size());
  return tolerances[index];
}

const Labour& WorkingCatalogue::labour(Adjuster adjuster) const {
  const auto index = static_cast<std::size_t>(adjuster);
  assert(index < labours.size());
  return labours[index];
}

double WorkingCatalogue::minutes_to_read(Reading reading) const {
  const auto index = static_cast<std::size_t>(reading);
  assert(index < reading_minutes.size());
  return reading_minutes[index];
}

double WorkingCatalogue::usual_uncertainty(Reading reading) const {
  const auto index = static_cast<std::size_t>(reading);
  assert(index < uncertainties.size());
  return uncertainties[index];
}

Result<WorkingCatalogue> working_catalogue(const std::map<std::string, std::string>& on_record) {
  WorkingCatalogue graded;
  // First, because it scales what the others stand over.
  if (const auto it = on_record.find("grade"); it != on_record.end())
    if (auto done = set_grade(it->second, graded); !done) return about(it->first, done.error());
  WorkingCatalogue working = tables(graded.grade);
  for (const auto& [name, value] : on_record) {
    const auto done = set(name, value, working);
    if (done && !*done) return about(name, done->error());
  }
  return working;
}

Result<void> check_catalogue_setting(const std::string& name, const std::string& value) {
  if (!is_catalogue_setting(name))
    return problem("There is no setting \"" + name + "\".",
                   "There are: grade, papers, <reading>-tolerance, <reading>-minutes, "
                   "<adjuster>-minutes, <adjuster>-limit.");
  if (auto working = working_catalogue({{name, value}}); !working)
    return tl::unexpected(working.error());
  return {};
}

bool is_catalogue_setting(const std::string& name) {
  return name == "grade" || name == "papers" ||
         exact(reading_kinds(), before(name, tolerance_suffix)) != nullptr ||
         exact(reading_kinds(), before(name, minutes_suffix)) != nullptr ||
         exact(adjuster_kinds(), before(name, minutes_suffix)) != nullptr ||
         exact(adjuster_kinds(), before(name, limit_suffix)) != nullptr;
}

}  // namespace batten
