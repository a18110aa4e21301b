#include "cli/command_line.hpp"

#include "cli/action_commands.hpp"
#include "cli/brief_commands.hpp"
#include "cli/commands.hpp"
#include "cli/complaint_commands.hpp"
#include "cli/data_commands.hpp"
#include "cli/drift_commands.hpp"
#include "cli/fit_commands.hpp"
#include "cli/gauge_commands.hpp"
#include "cli/paper_commands.hpp"
#include "cli/plan_commands.hpp"
#include "cli/serve_commands.hpp"
#include "cli/studio_commands.hpp"
#include "cli/subcommand.hpp"
#include "cli/terminal.hpp"
#include "cli/visits_commands.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <cstdio>
#include <string_view>

namespace batten::cli {

namespace {

constexpr const char* footer_text = R"(Examples:
  batten demo                                    the demo piano, mid-job
  batten plan                                    where the job stands, what first and why
  batten next                                    the one thing to do now
  batten done                                    it is done (batten done 45.6: what was read)
  batten why C4                                  why this, why now, what a turn does here
  batten line                                    where every hammer stands and what to turn
  batten sheet -o line.pdf                       the same on paper; batten sheet --plan: every pass
  batten template -o gauges.pdf                  gauges to cut for this piano's targets (.svg, .dxf)
  batten due --hours 6                           which pianos are due, and a day's plan
  batten add "Studio grand" --place "Room 4" --sections "E2 bridge, A#4 strut, D6 strut"
  batten read string-height C4 195.2             one reading
  batten read string-height --samples            a series, a number and Enter each, gauges too
  batten read hammer-height --from A0 --to C8
  batten prepare screws-tight done
  batten turned C4 "raise 3/64"                  a capstan was turned
  batten import readings.csv                     nothing is kept if a row is bad
  batten undo                                    take the last entry back
  batten action medium C4                        one note's mechanism: readings, what moves what
  batten stroke medium C4                        the same note played
  batten brief                                   can it do what the maker's sheet says?
  batten complaint C4 double-strikes             what is behind what the player feels

The store is $XDG_DATA_HOME/batten/journal.store unless --store names another. Without --piano the piano
whose visit began last is meant. Exit codes: 0 done; 1 could not be done; 2 the command makes no sense; 3 bad
rows, nothing imported.

Maker's instructions and a qualified technician's judgement come before this tool's numbers.)";

// Everything the commands parse into; lives as long as the parser.
struct Words {
  Common common;
  AddWords add;
  ReadWords read;
  MoveWords move;
  PrepareWords prepare;
  TableWords import, export_;
  SheetWords sheet;
  LineWords line;
  ActionWords action;
  StrokeWords stroke;
  ProfilesWords profiles;
  FitWords fit;
  PlanWords plan;
  DoneWords done;
  WhyWords why;
  BriefWords brief;
  ComplaintWords complaint;
  ServeWords serve;
  std::string revoked;
  std::string title, name, value, note, text, identity;
  int most = 0;
  bool step = false;
};

void add_piano_commands(CLI::App& app, Words& w, Command& chosen) {
  command(app, chosen, "demo", "put the demo piano into the store",
          "  batten demo\n  batten --store /tmp/try.store demo", [&w] { return demo(w.common); });
  command(app, chosen, "pianos", "list the pianos", "  batten pianos",
          [&w] { return pianos(w.common); });

  auto* a = command(app, chosen, "add", "add a piano",
                    "  batten add \"Studio grand\" --place \"Room 4\" --sections \"E2 bridge, A#4 "
                    "strut, D6 strut\"\n"
                    "  batten add \"Old grand\" --highest A7",
                    [&w] { return add(w.common, w.add); });
  a->add_option("NAME", w.add.name, "what you call it")->required();
  a->add_option("--place", w.add.place, "where it stands");
  a->add_option(
      "--sections", w.add.sections,
      "last note of each section but the top one and what ends it: \"E2 bridge, A#4 strut\"");
  a->add_option("--lowest", w.add.lowest, "lowest key (A0)");
  a->add_option("--highest", w.add.highest, "highest key (C8)");

  auto* v = command(app, chosen, "visit", "begin a new visit",
                    "  batten visit \"before the May recital\"",
                    [&w] { return visit(w.common, w.title); });
  v->add_option("TITLE", w.title, "such as \"before the May recital\"")->required();

  auto* s = command(app, chosen, "set", "choose a setting of the piano",
                    "  batten set sections \"E2 bridge, A#4 strut, D6 strut\"\n"
                    "  batten set blow-target \"46 to 45 mm\"\n"
                    "  batten set hammer-datum bench\n"
                    "  batten set crown-per-turn \"8.4 mm, 0.3 mm\"",
                    [&w] { return set(w.common, w.name, w.value); });
  s->add_option(
       "NAME", w.name,
       "sections, blow-target, samples, hammer-datum, crown-per-turn, turn-step, "
       "direction-sureness, out-of-service, undamped-from, action-profile; dip-target, grade, "
       "papers, capstan-thread and more: docs/manual/settings.md")
      ->required();
  s->add_option("VALUE", w.value, "such as \"46 to 45 mm\" for blow-target")->required();
}

void add_entry_commands(CLI::App& app, Words& w, Command& chosen) {
  auto* r =
      command(app, chosen, "read", "enter one reading, or a series from standard input",
              "  batten read string-height C4 195.2\n"
              "  batten read blow C4 '1 3/4\"'\n"
              "  batten read humidity 48\n"
              "  batten read string-height --samples     then a number and Enter for each note\n"
              "  batten read hammer-height --from B3 --to A0 --naturals --gauge \"dial 2\"",
              [&w] { return read(w.common, w.read); });
  r->add_option("READING", w.read.words,
                "reading [note] [value]: \"string-height C4 195.2\", \"humidity 48\"; the reading "
                "alone begins "
                "a series. In a series: a value; \"C4 195.2\"; - to skip; again; back; stop")
      ->required()
      ->expected(1, 3);
  r->add_option("--from", w.read.from, "first note of the series");
  r->add_option("--to", w.read.to, "last note of the series");
  r->add_flag("--samples", w.read.samples, "only the samples");
  r->add_flag("--naturals", w.read.naturals, "only the naturals");
  r->add_flag("--sharps", w.read.sharps, "only the sharps");
  r->add_option("--uncertainty", w.read.uncertainty,
                "one standard deviation; else the reading's usual one");
  r->add_option("--gauge", w.read.gauge, "which instrument");

  auto* t = command(app, chosen, "turned", "record a move made",
                    "  batten turned C4 \"raise 3/64\"\n"
                    "  batten turned C4 \"lower 1/8 turn\" --adjuster drop-screw",
                    [&w] { return turned(w.common, w.move); });
  t->add_option("NOTE", w.move.note)->required();
  t->add_option("AMOUNT", w.move.amount, "direction and amount: \"raise 3/64\", \"lower 1/8 turn\"")
      ->required();
  t->add_option("--adjuster", w.move.adjuster, "capstan unless named");
  t->add_option("--remark", w.move.remark);

  auto* p = command(app, chosen, "prepare", "note the state of a preparation item",
                    "  batten prepare screws-tight done\n"
                    "  batten prepare centres-free-and-firm wanting --note F#3\n"
                    "  batten prepare rest-cushions-even waived --because \"new cloth in summer\"",
                    [&w] { return prepare(w.common, w.prepare); });
  p->add_option("ITEM", w.prepare.item,
                "such as screws-tight; \"batten line\" lists what is missing")
      ->required();
  p->add_option("STATE", w.prepare.state, "found (in order), done, waived, wanting")->required();
  p->add_option("--note", w.prepare.note, "at one note only");
  p->add_option("--because", w.prepare.reason, "the reason; needed when waived");

  auto* n =
      command(app, chosen, "note", "write a remark", "  batten note \"knuckle replaced\" --at C4",
              [&w] { return remark(w.common, w.note, w.text); });
  n->add_option("TEXT", w.text)->required();
  n->add_option("--at", w.note, "the note it is about");

  auto* h = command(app, chosen, "history", "the journal, oldest first",
                    "  batten history --last 10", [&w] { return history(w.common, w.most); });
  h->add_option("--last", w.most, "only so many");

  auto* u =
      command(app, chosen, "undo", "take back the last entry, or one named by its first characters",
              "  batten undo\n  batten undo 6f69e590       as \"batten history\" shows it\n"
              "  batten undo --step         all that was kept at once, such as an import",
              [&w] { return w.step ? undo_step(w.common) : undo(w.common, w.identity); });
  u->add_flag("--step", w.step, "all entries kept in one step with the last, such as an import");
  u->add_option("ENTRY", w.identity, "as \"batten history\" shows it");
}

void add_result_commands(CLI::App& app, Words& w, Command& chosen) {
  auto* i = command(app, chosen, "import", "take readings from a table (CSV)",
                    "  batten import readings.csv              nothing is kept if a row is bad\n"
                    "  batten import readings.csv --take-good",
                    [&w] { return import(w.common, w.import); });
  i->add_option("FILE", w.import.file,
                "long form: note,reading,value,unit[,uncertainty][,gauge]; or wide: a row per note")
      ->required();
  i->add_flag("--take-good", w.import.take_good, "keep the good rows even when some are bad");

  auto* e = command(app, chosen, "export", "write the readings as a table (CSV)",
                    "  batten export -o readings.csv\n"
                    "  batten export --wide --semicolon --decimal-comma --mark -o readings.csv",
                    [&w] { return export_readings(w.common, w.export_); });
  e->add_option("-o,--output", w.export_.file, "file; else standard output");
  e->add_flag("--wide", w.export_.wide, "a row per note, a column per reading");
  e->add_flag("--semicolon", w.export_.semicolon, "';' between cells");
  e->add_flag("--decimal-comma", w.export_.comma, "45,2 for 45.2");
  e->add_flag("--mark", w.export_.mark, "begin with a byte order mark");

  auto* l = command(app, chosen, "line", "where every hammer stands and which screw to turn",
                    "  batten line\n  batten line --all --inches\n  batten --json line",
                    [&w] { return line(w.common, w.line); });
  l->add_flag("--all", w.line.all, "list every note");

  auto* s = command(
      app, chosen, "sheet", "the line, every pass, or bench sheets on paper (PDF)",
      "  batten sheet -o line.pdf\n  batten sheet --plan -o plan.pdf\n"
      "  batten sheet --pass let-off --large         to work from; batten back types it back\n"
      "  batten sheet --bench --language de -o bench.pdf\n"
      "  batten sheet --letter --inches -o line.pdf\n"
      "  batten sheet --picture --dpi 120 -o line.png",
      [&w] { return sheet(w.common, w.sheet); });
  s->add_option("-o,--output", w.sheet.file,
                "file (line-sheet.pdf, plan-sheet.pdf, bench-sheet.pdf)");
  s->add_flag("--plan", w.sheet.plan, "every pass of the plan instead of the line");
  s->add_option("--pass", w.sheet.pass, "the bench sheet of one pass: blow, let-off …");
  s->add_flag("--bench", w.sheet.bench, "a bench sheet for each pass");
  s->add_flag("--large", w.sheet.large, "bench sheets with larger type");
  s->add_option("--language", w.sheet.language, "of bench sheets: en or de");
  s->add_flag("--letter", w.sheet.letter, "US Letter instead of A4");
  s->add_flag("--decimal-comma", w.sheet.decimal_comma, "45,2 for 45.2");
  s->add_flag("--picture", w.sheet.picture, "one page as PNG");
  s->add_option("--page", w.sheet.page, "which page of the picture")->check(CLI::PositiveNumber);
  s->add_option("--dpi", w.sheet.dpi, "dots per inch of the picture")
      ->check(CLI::Range(36.0, 600.0));
}

void add_plan_commands(CLI::App& app, Words& w, Command& chosen) {
  auto* p = command(app, chosen, "plan", "where the job stands, what to do first and why",
                    "  batten plan\n"
                    "  batten plan --minutes 150                   what buys most in that time\n"
                    "  batten plan --pass let-off                  one pass, every step\n"
                    "  batten plan --all",
                    [&w] { return plan(w.common, w.plan); });
  p->add_option("--minutes", w.plan.minutes, "there are: 150, or \"2 h 30\"");
  p->add_option("--pass", w.plan.pass, "only this one: blow, dip, let-off, drop, checks …");
  p->add_flag("--all", w.plan.all, "every step of every pass");

  command(app, chosen, "next", "the one thing to do now", "  batten next",
          [&w] { return next(w.common); });

  auto* d = command(app, chosen, "done", "what next asked for is done, or left",
                    "  batten done                                 the move as asked\n"
                    "  batten done 45.6                            the reading asked for\n"
                    "  batten done \"raise 1/32\"                    the hand did something else\n"
                    "  batten done \"raise 1/32\" 45.6               and it was read again\n"
                    "  batten done --skip \"screw is stripped\"",
                    [&w] { return answered(w.common, w.done); });
  d->add_option("ANSWER", w.done.words, "amount with its direction, value, or both")
      ->expected(0, 2);
  auto* skip = d->add_option("--skip", w.done.skip, "leave it, with the reason");
  d->add_option("--note", w.done.note, "the note meant; refused if another is next");
  d->parse_complete_callback([&w, skip] { w.done.skipping = skip->count() > 0; });

  auto* y =
      command(app, chosen, "why", "why this instruction: what is off, why now, what a turn does",
              "  batten why                                  what is next\n"
              "  batten why C4\n  batten why C4 drop",
              [&w] { return why(w.common, w.why); });
  y->add_option("NOTE", w.why.note);
  y->add_option("ADJUSTER", w.why.adjuster, "adjuster or pass: capstan, drop-screw, let-off");

  auto* b =
      command(app, chosen, "brief", "can this piano do what its sheet says, and what gives way",
              "  batten brief\n"
              "  batten brief --register treble --map treble.svg\n"
              "  batten brief --accept 1 --because \"agreed with the owner\"",
              [&w] { return brief(w.common, w.brief); });
  b->add_option("--register", w.brief.where, "one register by its name, or any note");
  b->add_option("--map", w.brief.map, "write the map over blow and dip (SVG)");
  b->add_option("--accept", w.brief.accept,
                "number of the way taken, or one for each register with commas, or cheapest");
  b->add_option("--because", w.brief.because, "the reason, put on record with it");

  auto* c = command(app, chosen, "complaint", "what is behind what a player feels at a note",
                    "  batten complaint                            what can be said\n"
                    "  batten complaint C4 double-strikes\n"
                    "  batten complaint C4 does-not-repeat --look \"key-freedom 1\"",
                    [&w] { return complaint(w.common, w.complaint); });
  c->add_option("NOTE", w.complaint.words, "note, then what is felt")->expected(0, 20);
  c->add_option("--look", w.complaint.looks, "what was looked at: \"drop 0.4\", \"key-freedom 1\"")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
}

void add_action_commands(CLI::App& app, Words& w, Command& chosen) {
  auto* a =
      command(app, chosen, "action", "one note's mechanism: readings, and what moves what",
              "  batten action medium C4                     a profile that comes with it\n"
              "  batten action C4                            the piano's (set action-profile)\n"
              "  batten action medium C4 --capstan 0.2mm --spring \"10 %\"\n"
              "  batten action medium C4 --draw side.svg --depth let-off",
              [&w] { return action(w.common, w.action); });
  add_note_options(*a, w.action.note);
  a->add_option("--depth", w.action.depth,
                "of the key in the drawing: \"6 mm\", rest, let-off, bottom or checked (rest)");
  a->add_option("--draw-press", w.action.draw_press, "write the slow press as a curve (SVG)");
  a->add_option("--draw-influence", w.action.draw_influence, "write what moves what (SVG)");

  auto* s = command(app, chosen, "stroke", "one note played: events, speeds, energy",
                    "  batten stroke medium C4\n"
                    "  batten stroke medium C4 --effort loud --touch struck --draw stroke.svg\n"
                    "  batten stroke medium C4 --capstan=-0.3mm",
                    [&w] { return stroke(w.common, w.stroke); });
  add_note_options(*s, w.stroke.note);
  s->add_option("--effort", w.stroke.request.effort, "soft, middling, loud or all (all)");
  s->add_option("--touch", w.stroke.request.touch, "pressed or struck (pressed)");

  auto* p = command(app, chosen, "profiles", "the actions that come with the program",
                    "  batten profiles\n"
                    "  batten profiles medium -o mine.json         to edit\n"
                    "  batten profiles medium --all",
                    [&w] { return profiles(w.common, w.profiles); });
  p->add_option("PROFILE", w.profiles.name, "name, or file; shown as JSON");
  p->add_option("-o,--output", w.profiles.output, "file; else standard output");
  p->add_flag("--all", w.profiles.all, "every number, also those that are as usual");
}

void add_fit_command(CLI::App& app, Words& w, Command& chosen) {
  auto* f =
      command(app, chosen, "fit", "a piano's action from its readings at sample notes",
              "  batten fit                                  the piano whose visit began last\n"
              "  batten fit \"Studio grand\" --pairs rises.txt -o studio.json\n"
              "  batten fit --from concert",
              [&w] { return fit_action(w.common, w.fit); });
  f->add_option("PIANO", w.fit.piano, "name of the piano, or its beginning");
  f->add_option("--from", w.fit.profile,
                "profile to begin from: name or file (the piano's own, else medium)");
  f->add_option("--pairs", w.fit.pairs,
                "file of lines \"C4 4 20.3\": key held 4 mm down, crown risen 20.3 mm");
  f->add_option("-o,--out,--output", w.fit.output, "write the fitted profile to this file");
}

void add_serve_commands(CLI::App& app, Words& w, Command& chosen) {
  auto* s = command(app, chosen, "serve", "the app in a browser, until Ctrl-C",
                    "  batten serve\n  batten serve --port 9000\n"
                    "  batten serve --lan                          for a phone or tablet too",
                    [&w] { return serve(w.common, w.serve); });
  s->add_option("--port", w.serve.port, "on this machine (8137); 0: any that is free");
  s->add_flag("--lan", w.serve.lan, "open to the network too, for devices paired with a code");
  s->add_option("--lan-port", w.serve.lan_port, "for the network (8138); 0: any that is free");
  s->add_option("--web", w.serve.web, "folder to take the page from, while it is worked on")
      ->check(CLI::ExistingDirectory);

  auto* d = command(
      app, chosen, "devices", "phones and tablets that were paired",
      "  batten devices\n  batten devices revoke \"Tablet\"",
      [&w] { return w.revoked.empty() ? devices(w.common) : revoke_device(w.common, w.revoked); });
  auto* r = d->add_subcommand("revoke", "shut a device out");
  r->fallthrough();
  r->add_option("NAME", w.revoked, "as \"batten devices\" lists it")->required();
}

// What is wrong with the words, and where to look.
Problem misuse(const CLI::App& app, const CLI::ParseError& error) {
  const auto chosen = app.get_subcommands();
  if (!chosen.empty())
    return {chosen.front()->get_name() + ": " + error.what() + ".",
            {},
            "See \"batten " + chosen.front()->get_name() + " --help\"."};
  std::string known;
  for (const CLI::App* sub : app.get_subcommands([](const CLI::App*) { return true; }))
    known += (known.empty() ? "" : ", ") + sub->get_name();
  const auto left = app.remaining();
  const std::string happened = left.empty() ? std::string("Say what to do.")
                                            : "There is no command \"" + left.front() + "\".";
  return {happened, {}, "There are: " + known + ". See \"batten --help\"."};
}

// The words may be refused before the flag has been taken.
bool asks_for_json(int argc, char** argv) {
  return std::any_of(argv, argv + argc,
                     [](const char* word) { return std::string_view(word) == "--json"; });
}

}  // namespace

int run(int argc, char** argv) {
  CLI::App app{"Batten: from readings to a regulated action."};
  app.footer(footer_text);
  app.require_subcommand(1);
  app.set_version_flag("--version", "batten 0.1.0");
  Words words;
  Command chosen;
  app.add_option("--store", words.common.store, "the store's file");
  app.add_option("-p,--piano", words.common.piano, "name of the piano, or its beginning");
  app.add_option("--who", words.common.who, "who is working; goes into every entry")
      ->envname("BATTEN_WHO");
  app.add_flag("--json", words.common.json, "answer as JSON");
  app.add_flag("--inches", words.common.inches, "show lengths in inches");
  add_piano_commands(app, words, chosen);
  add_entry_commands(app, words, chosen);
  add_result_commands(app, words, chosen);
  add_plan_commands(app, words, chosen);
  add_action_commands(app, words, chosen);
  add_fit_command(app, words, chosen);
  add_paper_commands(app, words.common, chosen);
  add_gauge_commands(app, words.common, chosen);
  add_visits_commands(app, words.common, chosen);
  add_drift_commands(app, words.common, chosen);
  add_studio_commands(app, words.common, chosen);
  add_data_commands(app, words.common, chosen);
  add_serve_commands(app, words, chosen);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& e) {
    return app.exit(e);  // --help, --version
  } catch (const CLI::ParseError& e) {
    tell(misuse(app, e), words.common.json || asks_for_json(argc, argv));
    return misused;
  }
  const int code = chosen();
  if (!app.got_subcommand("backup")) back_up_if_due(words.common);
  // What could not be written was not said: a full disk behind a redirection must not pass for
  // done.
  if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return code;
  say_aside("The output could not be written whole. What was entered is kept; check the disk.");
  return not_done;
}

}  // namespace batten::cli
