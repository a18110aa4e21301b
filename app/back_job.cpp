#include "app/bench_job.hpp"
#include "app/entry_checks.hpp"
#include "app/entry_writing.hpp"
#include "app/pianos.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <map>
#include <set>
#include <utility>

namespace batten {

namespace {

constexpr const char* nothing = "Nothing was written down.";

std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

// The same for the same words: FNV-1a of 128 bits, marked as an identity made by its maker's own
// rule (RFC 9562, version 8).
Uuid identity_of(const std::string& words) {
  __extension__ using Wide = unsigned __int128;
  Wide hash = (Wide{0x6c62272e07bb0142U} << 64U) | 0x62b821756295c58dU;
  const Wide prime = (Wide{1} << 88U) | 0x13bU;
  for (const char c : words) hash = (hash ^ static_cast<unsigned char>(c)) * prime;
  Uuid id;
  for (std::size_t i = 0; i < id.bytes.size(); ++i)
    id.bytes[i] = static_cast<std::uint8_t>(hash >> (8U * (15U - i)));
  id.bytes[6] = static_cast<std::uint8_t>((id.bytes[6] & 0x0fU) | 0x80U);
  id.bytes[8] = static_cast<std::uint8_t>((id.bytes[8] & 0x3fU) | 0x80U);
  return id;
}

// A direction as the sheet writes it, in either language, turned into its sign.
std::string signed_amount(std::string_view text, Adjuster adjuster) {
  for (const Language language : {Language::english, Language::german})
    for (const double sign : {1.0, -1.0})
      for (const std::string& word :
           {short_direction(language, adjuster, sign), direction_of(language, adjuster, sign)})
        if (text.substr(0, word.size()) == word &&
            (text.size() == word.size() || text[word.size()] == ' '))
          return (sign < 0 ? "-" : "+") + std::string(trimmed(text.substr(word.size())));
  return std::string(text);
}

bool begins_signed(std::string_view text) {
  return !text.empty() && (text.front() == '+' || text.front() == '-' || text.starts_with("−"));
}

struct Wanted {
  std::vector<WantedEntry> entries;  // identities come later
};

// "=", "45.2", "raise 1/32", "raise 1/32 45.2", "- reason".
Result<Wanted> wanted_of(const Instruction& step, std::string_view said) {
  const std::string note = note_name(step.key);
  const std::string adjuster(kind_of(step.adjuster).code), reading(kind_of(step.reading).code);
  const bool turn = step.kind == Instruction::Kind::turn;
  Wanted out;
  const auto add = [&](auto what) { out.entries.push_back({{}, std::nullopt, std::move(what)}); };
  const auto read = [&](std::string_view value) {
    add(ReadingRequest{reading, note, std::string(value), "", ""});
  };
  // "- reason" with a blank; "-1/32" is an amount.
  if (said == "-" || said.starts_with("- ") || said.starts_with("– ")) {
    const std::string_view reason = trimmed(said.substr(said.find_first_of(' ') + 1));
    if (said == "-" || reason.empty())
      return problem("What is left needs its reason on record.",
                     "Write it behind the dash: 5 - screw is stripped.");
    add(WantedSkip{adjuster, note, std::string(reason)});
    return out;
  }
  if (!turn) {
    if (said == "=")
      return problem("A reading is done when it has a value.", "Write what was read: 3 45.2.");
    read(said);
    return out;
  }
  if (said == "=") {
    add(WantedMove{adjuster, note, step.amount, ""});
    return out;
  }
  const std::string amount = signed_amount(said, step.adjuster);
  if (!begins_signed(amount)) {
    // Done as asked, and read after it.
    if (amount.find('/') != std::string::npos && amount.find('"') == std::string::npos)
      return problem("\"" + amount + "\" has no direction.",
                     "Write + or − or the direction before it: " +
                         short_direction(Language::english, step.adjuster, step.amount) + " " +
                         amount + ".");
    add(WantedMove{adjuster, note, step.amount, ""});
    read(amount);
    return out;
  }
  // The amount, then perhaps a value behind a blank: the last word that is a reading by itself. "+1
  // 1/4" is one amount.
  if (const auto blank = amount.rfind(' '); blank != std::string::npos) {
    const std::string last = amount.substr(blank + 1), first = amount.substr(0, blank);
    const bool number =
        !last.empty() && last.find_first_not_of("0123456789.,") == std::string::npos;
    if (number) {
      add(WantedMove{adjuster, note, first, ""});
      read(last);
      return out;
    }
  }
  add(WantedMove{adjuster, note, amount, ""});
  return out;
}

// A line's number and what follows it.
struct Typed {
  int line = 0;
  std::string_view rest;
};
Result<Typed> parse_line(std::string_view text, std::size_t lines) {
  Typed typed;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), typed.line);
  typed.rest = trimmed(text.substr(static_cast<std::size_t>(end - text.data())));
  if (typed.rest.starts_with(":")) typed.rest = trimmed(typed.rest.substr(1));
  const bool apart =
      end == text.data() + text.size() || *end == ' ' || *end == '\t' || *end == ':' || *end == '=';
  if (error != std::errc() || !apart)
    return problem("It does not begin with a line's number.",
                   "Write the number at the left of the sheet, a blank, and the result: 3 45.2.");
  if (typed.line < 1 || static_cast<std::size_t>(typed.line) > lines)
    return problem(fmt::format("The sheet has no line {}.", typed.line),
                   fmt::format("Its lines are 1 to {}.", lines));
  if (typed.rest.empty())
    return problem(fmt::format("Line {} has no result.", typed.line),
                   "Write = for done as asked, a value, or - and the reason it was left.");
  return typed;
}

// The plan as it stood when the journal had so many entries.
Result<PianoPlan> plan_at(Desk& desk, const Piano& piano, std::int64_t revision) {
  auto now = desk.store.revision(piano.id);
  if (!now) return tl::unexpected(now.error());
  if (revision > *now)
    return problem("The sheet is of a journal longer than the one here.",
                   "It was printed on another machine: bring its journal here first (batten bundle "
                   "--import FILE).");
  auto entries = desk.store.entries_at(piano.id, revision);
  if (!entries) return tl::unexpected(entries.error());
  Standing standing = fold(*entries);
  auto model = model_on_record(standing, piano);
  if (!model) return tl::unexpected(model.error());
  return plan_standing(desk, piano, std::move(standing), model->action);
}

// Identities that hang on the sheet, the line and what it says; one more round for each time it was
// taken back.
void give_identities(std::vector<WantedEntry>& entries, const std::string& words,
                     const std::map<Uuid, bool>& in_force) {
  for (std::size_t part = 0; part < entries.size(); ++part)
    for (int round = 0;; ++round) {
      entries[part].id = identity_of(fmt::format("{}/{}/{}", words, part, round));
      const auto known = in_force.find(entries[part].id);
      if (known == in_force.end() || known->second) break;
    }
}

}  // namespace

tl::expected<TypedBack, NotTypedBack> type_back(Desk& desk, const Piano& piano,
                                                std::string_view code_text,
                                                const std::vector<std::string>& lines) {
  const auto refuse = [](Problem p, std::vector<BackRefusal> refused = {}) {
    if (p.kept.empty()) p.kept = nothing;
    return tl::unexpected(NotTypedBack{std::move(p), std::move(refused)});
  };
  const auto code = read_bench_code(piano, code_text);
  if (!code) return refuse(code.error());
  const auto plan = guarded([&] { return plan_at(desk, piano, code->revision); });
  if (!plan) return refuse(plan.error());
  const auto& passes = plan->plan.passes;
  const auto pass = std::ranges::find(passes, code->pass, &Pass::adjuster);
  if (pass == passes.end())
    return refuse({"The plan of that sheet cannot be made again: it has no such pass.", nothing,
                   "Write the results down with batten read and batten turned."});

  std::map<Uuid, bool> known;
  const auto journal = guarded([&] { return desk.store.entries(piano.id); });
  if (!journal) return refuse(journal.error());
  const std::vector<bool> holds = in_force(*journal);
  for (std::size_t i = 0; i < journal->size(); ++i) known.emplace((*journal)[i].id, holds[i]);

  std::vector<WantedEntry> wanted;
  std::vector<BackRefusal> refused;
  struct Place {
    std::size_t typed;
    int line;
    Key key;
  };
  std::vector<Place> places;  // of each wanted entry
  std::set<int> seen;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string_view text = trimmed(lines[i]);
    if (text.empty()) continue;
    const auto no = [&](const Problem& p) {
      refused.push_back({static_cast<int>(i) + 1, std::string(text), p});
    };
    const auto typed = parse_line(text, pass->steps.size());
    if (!typed) {
      no(typed.error());
      continue;
    }
    if (!seen.insert(typed->line).second) {
      no({fmt::format("Line {} was typed twice.", typed->line), nothing, "Keep the right one."});
      continue;
    }
    const Instruction& step = pass->steps[static_cast<std::size_t>(typed->line - 1)];
    auto of_line = wanted_of(step, typed->rest);
    if (!of_line) {
      no(of_line.error());
      continue;
    }
    give_identities(
        of_line->entries,
        fmt::format("{}/{}/{}/{}", to_text(piano.id), bench_code(piano, code->pass, code->revision),
                    typed->line, typed->rest),
        known);
    // Each is asked for itself first, so that every bad line is told at once.
    bool good = true;
    for (const WantedEntry& e : of_line->entries) {
      Result<void> ok = {};
      if (const auto* r = std::get_if<ReadingRequest>(&e.what)) {
        if (auto reading = check_reading(piano, *r); !reading) ok = tl::unexpected(reading.error());
      } else if (const auto* m = std::get_if<WantedMove>(&e.what)) {
        const auto move = std::visit(
            [&](const auto& amount) { return check_move(piano, m->adjuster, m->note, amount); },
            m->amount);
        if (!move) ok = tl::unexpected(move.error());
      }
      if (ok) continue;
      no(ok.error());
      good = false;
      break;
    }
    if (!good) continue;
    for (WantedEntry& e : of_line->entries) {
      wanted.push_back(std::move(e));
      places.push_back({i, typed->line, step.key});
    }
  }
  if (!refused.empty()) {
    Problem all{refused.size() == 1 ? std::string("One line could not be taken.")
                                    : fmt::format("{} lines could not be taken.", refused.size()),
                nothing, "Correct what is said at each, and send them all again."};
    return refuse(std::move(all), std::move(refused));
  }
  if (wanted.empty())
    return refuse({"No line was typed.", nothing, "A line each: 3 45.2, 4 =, 5 - reason."});

  auto kept = write_entries(desk, piano, desk.who, wanted);
  if (!kept) {
    const NotWritten& why = kept.error();
    for (std::size_t i = 0; why.entry && i < wanted.size(); ++i)
      if (wanted[i].id == *why.entry)
        return refuse(
            {"One line could not be taken.", nothing,
             "Correct what is said at it, and send them all again."},
            {{static_cast<int>(places[i].typed) + 1, lines[places[i].typed], why.problem}});
    return refuse(why.problem);
  }
  TypedBack out;
  out.already_there = kept->already_there;
  out.written = kept->entries.size() - kept->already_there;
  out.revision = kept->revision;
  for (std::size_t i = 0; i < kept->entries.size(); ++i) {
    if (out.lines.empty() || out.lines.back().line != places[i].line)
      out.lines.push_back({places[i].line, places[i].key, {}});
    out.lines.back().entries.push_back(kept->entries[i]);
  }
  return out;
}

std::string back_words(const BackLine& line, PageStyle style) {
  const Said said(style);
  std::string text;
  for (const Entry& e : line.entries) {
    if (!text.empty()) text += "; ";
    if (const auto* r = std::get_if<ReadingTaken>(&e.content))
      text += name_of(style.language, r->reading) + " " + said.value(r->reading, r->value);
    if (const auto* m = std::get_if<MoveMade>(&e.content))
      text += name_of(style.language, m->adjuster) + ": " +
              direction_of(style.language, m->adjuster, m->amount) + " " +
              said.amount(m->adjuster, m->amount);
    if (const auto* s = std::get_if<MoveSkipped>(&e.content))
      text += name_of(style.language, s->adjuster) + ": " +
              say(style.language, "page.why.skipped", {{"reason", s->reason}});
  }
  return capital(text);
}

}  // namespace batten
