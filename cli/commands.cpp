#include "cli/commands.hpp"

#include "app/entries.hpp"
#include "app/files.hpp"
#include "app/line_job.hpp"
#include "app/pianos.hpp"
#include "app/plan_job.hpp"
#include "app/readings.hpp"
#include "app/tables.hpp"
#include "cli/desk_work.hpp"
#include "cli/history_text.hpp"
#include "cli/line_text.hpp"
#include "cli/paper_commands.hpp"
#include "cli/read_series.hpp"
#include "cli/terminal.hpp"
#include "core/regulation/catalogue/readings.hpp"
#include "json/journal_json.hpp"
#include "json/line_json.hpp"
#include "workshop/demo.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace batten::cli {

namespace {

// Prints one kept entry.
int told(const Common& common, const Result<Entry>& kept, const char* word = "kept: ") {
  if (!kept) return fail(common, kept.error());
  say(common.json ? to_json(*kept) : word + entry_text(kept->content));
  return done;
}

void print_bad_rows(const ImportOutcome& outcome) {
  for (const BadRow& b : outcome.bad)
    say_aside(fmt::format("line {}: {}\n    {}", b.line, b.reason.sentence(), b.row));
  if (outcome.bad_rows > static_cast<int>(outcome.bad.size()))
    say_aside(fmt::format("… and {} more bad rows.",
                          outcome.bad_rows - static_cast<int>(outcome.bad.size())));
}

}  // namespace

int demo(const Common& common) {
  return with_desk(common, [&](Desk& desk) {
    auto piano = workshop::build_demo(desk);
    if (!piano) return fail(common, piano.error());
    if (common.json) {
      say(to_json(*piano));
      return done;
    }
    say(fmt::format(
        "The demo piano \"{}\" ({}) is in the store, mid-job.\n"
        "See where it stands with \"batten plan\" and \"batten line\", print it with \"batten "
        "sheet\".",
        piano->name, piano->place));
    return done;
  });
}

int pianos(const Common& common) {
  return with_desk(common, [&](Desk& desk) {
    auto all = list_pianos(desk);
    if (!all) return fail(common, all.error());
    if (common.json) {
      say(to_json(*all));
      return done;
    }
    if (all->empty()) say("No piano yet. Add one with \"batten add\", or see \"batten demo\".");
    std::size_t widest = 0;
    for (const PianoSummary& p : *all) widest = std::max(widest, p.piano.name.size());
    for (const PianoSummary& p : *all) {
      std::string row = padded(p.piano.name, std::min<std::size_t>(widest, 40));
      if (!p.piano.place.empty()) row += "  " + p.piano.place;
      say(fmt::format(
          "{}\n    {}–{}, {} {}, {} {}{}", row, note_name(Key{p.piano.lowest_key}),
          note_name(Key{p.piano.highest_key}), p.visit_count,
          p.visit_count == 1 ? "visit" : "visits", p.entry_count,
          p.entry_count == 1 ? "entry" : "entries",
          p.latest_visit ? ", last visit " + print_date(p.latest_visit->begun_ms) : ""));
    }
    return done;
  });
}

int add(const Common& common, const AddWords& words) {
  return with_desk(common, [&](Desk& desk) {
    auto low = parse_key(words.lowest);
    if (!low) return fail(common, low.error());
    auto high = parse_key(words.highest);
    if (!high) return fail(common, high.error());
    auto compass = make_compass(*low, *high);
    if (!compass) return fail(common, compass.error());
    auto piano = add_piano(desk, {words.name, words.place, *compass, words.sections});
    if (!piano) return fail(common, piano.error());
    say(common.json ? to_json(*piano) : "added: " + piano->name);
    return done;
  });
}

int visit(const Common& common, const std::string& title) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto begun = begin_visit(desk, piano, title);
    if (!begun) return fail(common, begun.error());
    say(common.json ? to_json(*begun) : "begun: visit \"" + begun->title + "\" of " + piano.name);
    return done;
  });
}

int set(const Common& common, const std::string& name, const std::string& value) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    return told(common, choose_setting(desk, piano, name, value));
  });
}

int prepare(const Common& common, const PrepareWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    return told(common,
                note_preparation(desk, piano, words.item, words.state, words.note, words.reason));
  });
}

int read(const Common& common, const ReadWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    if (words.words.size() == 1) return read_series(desk, piano, common, words);
    if (words.words.size() == 2 && parse_key(words.words[1]) &&
        std::isalpha(static_cast<unsigned char>(words.words[1][0])) != 0)
      return fail(common, {"There is no value behind " + words.words[1] + ".",
                           {},
                           "Write it behind the note, as in \"read " + words.words[0] + " " +
                               words.words[1] + " 195.2\"."});
    ReadingRequest request{words.words[0], "", words.words.back(), words.uncertainty, words.gauge};
    if (words.words.size() == 3) request.note = words.words[1];
    return told(common, take_reading(desk, piano, request));
  });
}

int turned(const Common& common, const MoveWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    return told(common,
                record_move(desk, piano, words.adjuster, words.note, words.amount, words.remark));
  });
}

int remark(const Common& common, const std::string& note, const std::string& text) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    return told(common, batten::remark(desk, piano, note, text));
  });
}

int import(const Common& common, const TableWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto outcome = [&] {
      ProgressBar bar("import");
      return import_table(desk, piano, words.file, words.take_good,
                          [&](double share) { bar.at(share); });
    }();
    if (!outcome) return fail(common, outcome.error());
    const bool refused = outcome->bad_rows > 0 && !words.take_good;
    if (common.json) {
      say(to_json(*outcome));
      return refused ? bad_rows : done;
    }
    print_bad_rows(*outcome);
    if (refused) {
      say_aside(
          fmt::format("{} bad {}: nothing was imported. Mend the file, or take the good rows with "
                      "--take-good.",
                      outcome->bad_rows, outcome->bad_rows == 1 ? "row" : "rows"));
      return bad_rows;
    }
    say(fmt::format("{} {} kept{}.", outcome->kept, outcome->kept == 1 ? "reading" : "readings",
                    outcome->bad_rows > 0 ? fmt::format(", {} bad {} left out", outcome->bad_rows,
                                                        outcome->bad_rows == 1 ? "row" : "rows")
                                          : ""));
    return done;
  });
}

int export_readings(const Common& common, const TableWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    ExportRequest request;
    request.form = words.wide ? TableForm::wide_form : TableForm::long_form;
    request.style = {words.semicolon ? ';' : ',', words.comma, words.mark};
    auto text = export_table(desk, piano, request);
    if (!text) return fail(common, text.error());
    if (words.file.empty() && common.json) {
      say(table_to_json(request.form, *text));
      return done;
    }
    if (words.file.empty()) {
      // As it is: the table's own line ends, nothing added.
      std::fwrite(text->data(), 1, text->size(), stdout);
      return done;
    }
    if (auto written = write_file(words.file, *text); !written)
      return fail(common, written.error());
    if (common.json)
      say(table_file_to_json(request.form, words.file));
    else
      say_aside("written: " + words.file);
    return done;
  });
}

int line(const Common& common, const LineWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto drawn = draw_line(desk, piano);
    if (!drawn) return fail(common, drawn.error());
    say(common.json ? to_json(piano, *drawn)
                    : line_text(piano, *drawn, {words.all, common.inches}));
    return done;
  });
}

int sheet(const Common& common, const SheetWords& words) {
  if (words.bench || words.large || !words.pass.empty())
    return bench_sheet(common, {words.file, words.pass, words.language, words.large, words.letter,
                                words.picture, words.page, words.dpi});
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    SheetRequest request;
    request.options.paper = words.letter ? Paper::letter : Paper::a4;
    request.options.inches = common.inches;
    request.options.decimal_comma = words.decimal_comma;
    request.picture = words.picture;
    request.page = words.page;
    request.dpi = words.dpi;
    const std::string file = !words.file.empty() ? words.file
                             : words.plan        ? "plan-sheet.pdf"
                                                 : "line-sheet.pdf";
    auto pages = words.plan ? write_plan_sheet(desk, piano, file, request)
                            : write_sheet(desk, piano, file, request);
    if (!pages) return fail(common, pages.error());
    if (words.picture && words.page > *pages)
      say_aside(fmt::format("The sheet has {} pages; the last was drawn.", *pages));
    say(common.json
            ? sheet_to_json(file, *pages)
            : fmt::format("written: {}, {} {}", file, *pages, *pages == 1 ? "page" : "pages"));
    return done;
  });
}

int history(const Common& common, int most) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto lines = batten::history(desk, piano);
    if (!lines) return fail(common, lines.error());
    if (most > 0 && static_cast<int>(lines->size()) > most)
      lines->erase(lines->begin(), lines->end() - most);
    say(common.json ? to_json(*lines) : history_text(*lines));
    return done;
  });
}

int undo(const Common& common, const std::string& identity) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    return told(common, batten::undo(desk, piano, identity), "taken back: ");
  });
}

int undo_step(const Common& common) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto step = batten::undo_step(desk, piano);
    if (!step) return fail(common, step.error());
    if (common.json) {
      say(to_json(*step));
      return done;
    }
    say(fmt::format("taken back: {} {}, from {} to {}", step->size(),
                    step->size() == 1 ? "entry" : "entries", entry_text(step->front().content),
                    entry_text(step->back().content)));
    return done;
  });
}

}  // namespace batten::cli
