#include "cli/visits_commands.hpp"

#include "app/entries.hpp"
#include "app/line_job.hpp"
#include "app/visits_job.hpp"
#include "cli/desk_work.hpp"
#include "core/quantities/text.hpp"
#include "json/visits_json.hpp"

#include <fmt/format.h>

#include <cmath>
#include <memory>

namespace batten::cli {

namespace {

struct VisitsWords {
  std::string from, to;
};

std::string room_text(const VisitOnRecord& v) {
  std::string out;
  if (v.humidity) out += fmt::format(", {} % humidity", print_number(*v.humidity, {.decimals = 0}));
  if (v.temperature) out += fmt::format(", {} °C", print_number(*v.temperature, {.decimals = 0}));
  return out;
}

std::string visit_text(const VisitOnRecord& v) {
  std::string who;
  for (const std::string& name : v.who) who += (who.empty() ? ", " : " and ") + name;
  return fmt::format("{}: {}{}{}", print_date(v.visit.begun_ms),
                     v.visit.title.empty() ? "a visit" : v.visit.title, who, room_text(v));
}

std::string list_text(const std::vector<VisitOnRecord>& visits) {
  std::string out;
  for (std::size_t i = 0; i < visits.size(); ++i)
    out += wrapped(fmt::format("{:2}  {}; {} readings, {} moves.", i + 1, visit_text(visits[i]),
                               visits[i].readings, visits[i].moves),
                   "");
  return out;
}

// "+0.42", "0.06 mm", in ten-thousandths of an inch where wanted.
struct Figures {
  ReadingUnit unit;
  bool inches;

  bool inch() const { return inches && unit == ReadingUnit::millimetre; }
  std::string bare(double value, bool plus = false) const {
    return print_number(inch() ? value / 25.4 : value, {.decimals = inch() ? 4 : 2, .plus = plus});
  }
  std::string whole(double value) const {
    const std::string_view symbol = inch() ? "in" : unit_symbol(unit);
    return bare(value) + (symbol.empty() ? "" : " ") + std::string(symbol);
  }
};

std::string shift_text(const Shift& s, const Figures& figures) {
  std::string text =
      fmt::format("{} {}–{}: {} ± {} over {} {}", s.section ? "register" : "all notes,",
                  note_name(s.first), note_name(s.last), figures.bare(s.mean, true),
                  figures.whole(s.error), s.notes, s.notes == 1 ? "note" : "notes");
  if (!s.beyond_noise) text += ", within noise";
  if (s.spread_beyond_noise)
    text += fmt::format("; from note to note ± {}", figures.whole(*s.spread));
  return text;
}

void add_shifts(const std::vector<Shift>& shifts, const Figures& figures, const char* what,
                std::string& out) {
  for (const Shift& s : shifts) {
    // Registers are worth a line only where they tell something.
    if (s.section && !s.beyond_noise && !s.spread_beyond_noise) continue;
    out += wrapped(fmt::format("{}: {}", what, shift_text(s, figures)), "    ");
  }
}

std::string moves_text(const AdjusterCompared& a) {
  const AdjusterKind& kind = kind_of(a.adjuster);
  const char* unit = kind.unit == MoveUnit::turns         ? "turns"
                     : kind.unit == MoveUnit::millimetres ? "mm"
                                                          : "steps";
  std::string text = fmt::format("{}: {} {}", kind.name, a.moves, a.moves == 1 ? "move" : "moves");
  if (a.notes > 0) text += fmt::format(" at {} {}", a.notes, a.notes == 1 ? "note" : "notes");
  const auto side = [&](double sum, std::string_view verb) {
    if (sum > 0)
      text += fmt::format(", {} {} {} in all", verb, print_number(sum, {.decimals = 2}), unit);
  };
  side(a.positive, kind.positive);
  side(a.negative, kind.negative);
  for (const RegisterMoves& r : a.by_register)
    text += fmt::format("; {}–{} {} {} a note", note_name(r.first), note_name(r.last),
                        print_number(r.mean, {.decimals = 2, .plus = true}), unit);
  return text;
}

std::string compared_text(const ComparedVisits& visits, bool inches) {
  std::string out = wrapped("From " + visit_text(visits.from), "");
  out += wrapped("To   " + visit_text(visits.to), "");
  if (visits.between > 0)
    out += wrapped(fmt::format("{} {} between; their moves are taken off what moved by itself.",
                               visits.between, visits.between == 1 ? "visit lies" : "visits lie"),
                   "");
  if (visits.compared.readings.empty())
    out += "\nNo note was read in both, so nothing can be told apart.\n";
  for (const ReadingCompared& r : visits.compared.readings) {
    const Figures figures{kind_of(r.reading).unit, inches};
    out += fmt::format("\n{}\n", kind_of(r.reading).name);
    add_shifts(r.by_itself, figures, "moved by itself", out);
    add_shifts(r.changed, figures, "changed", out);
  }
  if (!visits.compared.adjusters.empty()) out += "\nturned in the second\n";
  for (const AdjusterCompared& a : visits.compared.adjusters) out += wrapped(moves_text(a), "    ");
  out += "\n";
  out += wrapped(
      fmt::format("Mean ± its standard error. {} looks; of all that are not called noise about {} "
                  "% at most are expected to be noise all the same (Benjamini and Hochberg). A "
                  "gauge set differently looks like a move of everything.",
                  visits.compared.looks, std::lround(false_finding_rate * 100)),
      "");
  return out;
}

int visits(const Common& common, const VisitsWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto revision = desk.store.revision(piano.id);
    if (!revision) return fail(common, revision.error());
    if (words.from.empty()) {
      auto now = standing(desk, piano);
      if (!now) return fail(common, now.error());
      auto all = visits_on_record(desk, piano, *now);
      if (!all) return fail(common, all.error());
      say(common.json ? visits_to_json(piano, *all, *revision) : list_text(*all));
      return done;
    }
    auto plan = plan_work(desk, piano);
    if (!plan) return fail(common, plan.error());
    auto compared = compare_two_visits(desk, piano, *plan, words.from, words.to);
    if (!compared) return fail(common, compared.error());
    say(common.json ? to_json(piano, *compared, *revision)
                    : compared_text(*compared, common.inches));
    return done;
  });
}

}  // namespace

void add_visits_commands(CLI::App& app, const Common& common, Command& chosen) {
  auto w = std::make_shared<VisitsWords>();
  auto* v = command(app, chosen, "visits", "the visits on record, or two of them compared",
                    "  batten visits                               what is on record\n"
                    "  batten visits 3 5                           what moved by itself, what was "
                    "changed\n"
                    "  batten visits 4                             with the last",
                    [w, &common] { return visits(common, *w); });
  v->add_option("FROM", w->from, "number as listed (1: the oldest), or identity");
  v->add_option("TO", w->to, "likewise; the last with readings unless named");
}

}  // namespace batten::cli
