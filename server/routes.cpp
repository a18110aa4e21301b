#include "server/routes.hpp"

#include "server/answers.hpp"

#include <array>
#include <string>

namespace batten::server {

namespace {

constexpr std::size_t kB = 1024;

// Event streams, pairing and devices are the listener's own (see docs/api).
constexpr std::array table{
    // clang-format off
    Route{Method::get,  "/api/catalogue",                          Lane::desk,  get_catalogue,  0,        "what can be read, turned, prepared and felt"},
    Route{Method::get,  "/api/pianos",                             Lane::desk,  get_pianos,     0,        "all pianos"},
    Route{Method::post, "/api/pianos",                             Lane::desk,  post_pianos,    4 * kB,   "adds a piano"},
    Route{Method::get,  "/api/pianos/{piano}",                     Lane::desk,  get_piano,      0,        "a piano, its visits, settings and preparation"},
    Route{Method::post, "/api/pianos/{piano}/visits",              Lane::desk,  post_visits,    4 * kB,   "begins a visit"},
    Route{Method::get,  "/api/pianos/{piano}/journal",             Lane::desk,  get_journal,    0,        "its entries, oldest first, from ?since= on"},
    Route{Method::post, "/api/pianos/{piano}/entries",             Lane::desk,  post_entries,   256 * kB, "writes entries down, all or none, each once"},
    Route{Method::get,  "/api/pianos/{piano}/strip",               Lane::plan,  get_strip,      0,        "every note's readings, beliefs, targets and moves, by column"},
    Route{Method::get,  "/api/pianos/{piano}/read-next",           Lane::plan,  get_read_next,  0,        "which readings would tell most"},
    Route{Method::get,  "/api/pianos/{piano}/line",                Lane::plan,  get_line,       0,        "the line of strings and hammers"},
    Route{Method::get,  "/api/pianos/{piano}/plan",                Lane::plan,  get_plan,       0,        "what to read and turn, in order, in ?minutes="},
    Route{Method::get,  "/api/pianos/{piano}/time",                Lane::plan,  get_time,       0,        "what evenness how many minutes buy"},
    Route{Method::get,  "/api/pianos/{piano}/why",                 Lane::plan,  get_why,        0,        "reasons for ?note= and ?adjuster="},
    Route{Method::get,  "/api/pianos/{piano}/notes/{note}",        Lane::model, get_note,       0,        "a note's action as the model has it"},
    Route{Method::post, "/api/pianos/{piano}/notes/{note}/what-if", Lane::model, post_what_if,  8 * kB,   "the same with adjusters moved"},
    Route{Method::post, "/api/pianos/{piano}/notes/{note}/strokes", Lane::model, post_strokes,  8 * kB,   "strokes at three efforts"},
    Route{Method::get,  "/api/pianos/{piano}/brief",               Lane::plan,  get_brief,      0,        "whether its sheet works, and what would"},
    Route{Method::get,  "/api/pianos/{piano}/brief/map",           Lane::plan,  get_brief_map,  0,        "blow against dip at ?where="},
    Route{Method::post, "/api/pianos/{piano}/brief",               Lane::plan,  post_brief,     8 * kB,   "accepts departures, with a reason"},
    Route{Method::post, "/api/pianos/{piano}/complaints",          Lane::plan,  post_complaint, 8 * kB,   "likely causes of what a player feels"},
    Route{Method::get,  "/api/pianos/{piano}/handover",            Lane::plan,  get_handover,   0,        "before and after, done and left; the pages for owner and file"},
    Route{Method::get,  "/api/pianos/{piano}/handover.pdf",        Lane::plan,  get_handover_pdf, 0,      "page for the owner and sheet for the file, on paper"},
    Route{Method::get,  "/api/pianos/{piano}/sheet.pdf",           Lane::plan,  get_sheet_pdf,  0,        "bench sheets of ?pass= or of all, ?large=1"},
    Route{Method::post, "/api/pianos/{piano}/back",                Lane::plan,  post_back,      64 * kB,  "writes down what was typed back from a bench sheet, all or none"},
    Route{Method::get,  "/api/pianos/{piano}/visits",              Lane::desk,  get_visits,     0,        "its visits, oldest first, with what was done in each"},
    Route{Method::get,  "/api/pianos/{piano}/visits/compare",      Lane::plan,  get_visits_compared, 0,   "what moved by itself and what was changed, ?from= one visit ?to= another"},
    Route{Method::get,  "/api/pianos/{piano}/templates",           Lane::plan,  get_templates,  0,        "gauges that can be cut for its targets"},
    Route{Method::get,  "/api/pianos/{piano}/template.pdf",        Lane::plan,  get_template_pdf, 0,      "gauges to cut, 1:1, each ?gauge= or all"},
    Route{Method::get,  "/api/pianos/{piano}/template.svg",        Lane::plan,  get_template_svg, 0,      "the same for a laser cutter"},
    Route{Method::get,  "/api/pianos/{piano}/template.dxf",        Lane::plan,  get_template_dxf, 0,      "the same as DXF"},
    Route{Method::get,  "/api/pianos/{piano}/drift",               Lane::plan,  get_drift,      0,        "how it will wander, when to come back at ?limit= in ?months="},
    Route{Method::get,  "/api/pianos/{piano}/first-checks",        Lane::plan,  get_first_checks, 0,      "what to look at first ?after= a spell"},
    Route{Method::get,  "/api/pianos/{piano}/bundle.json",         Lane::plan,  get_bundle,     0,        "the piano with its whole journal, as one file"},
    Route{Method::post, "/api/bundles",                            Lane::plan,  post_bundle,    50 * kB * kB, "takes such a file in, ?as= a name"},
    Route{Method::get,  "/api/shop",                               Lane::desk,  get_shop,       0,        "what holds for the workshop: settings, logo, backups"},
    Route{Method::post, "/api/shop",                               Lane::desk,  post_shop,      16 * kB,  "chooses a setting of the workshop"},
    Route{Method::get,  "/api/shop/logo",                          Lane::desk,  get_logo,       0,        "the logo's file"},
    Route{Method::put,  "/api/shop/logo",                          Lane::desk,  put_logo,       kB * kB,  "another logo: the bytes of a PNG or JPEG file", true},
    Route{Method::remove, "/api/shop/logo",                        Lane::desk,  delete_logo,    0,        "no logo from now on"},
    Route{Method::get,  "/api/backups",                            Lane::desk,  get_backups,    0,        "copies of the store, newest first"},
    Route{Method::post, "/api/backups",                            Lane::model, post_backups,   16,       "makes a copy of the store now"},
    Route{Method::get,  "/api/studio",                             Lane::plan,  get_studio,     0,        "when every piano is due; a day's plan in ?hours= with ?fixed="},
    Route{Method::get,  "/api/due.ics",                            Lane::plan,  get_all_due,    0,        "the days pianos are due, as a calendar"},
    Route{Method::get,  "/api/pianos/{piano}/due.ics",             Lane::plan,  get_due,        0,        "the day this one is due, as a calendar"},
    // clang-format on
};

// Parts of a path; "/a/b" gives a, b. Nothing else has been let through.
std::string_view cut(std::string_view& rest) {
  rest.remove_prefix(1);
  const std::size_t end = std::min(rest.find('/'), rest.size());
  const std::string_view part = rest.substr(0, end);
  rest.remove_prefix(end);
  return part;
}

bool fits(std::string_view pattern, std::string_view path,
          std::map<std::string, std::string>& parts) {
  while (!pattern.empty() && !path.empty()) {
    const std::string_view wanted = cut(pattern), given = cut(path);
    if (wanted.starts_with('{')) {
      if (given.empty()) return false;
      parts[std::string(wanted.substr(1, wanted.size() - 2))] = std::string(given);
    } else if (wanted != given) {
      return false;
    }
  }
  return pattern.empty() && path.empty();
}

}  // namespace

std::span<const Route> routes() { return table; }

const Route* find_route(std::span<const Route> all, Request& request, bool& other_method) {
  other_method = false;
  for (const Route& route : all) {
    std::map<std::string, std::string> parts;
    if (!fits(route.pattern, request.path, parts)) continue;
    if (route.method != request.method) {
      other_method = true;
      continue;
    }
    request.parts = std::move(parts);
    return &route;
  }
  return nullptr;
}

}  // namespace batten::server
