#include "app/note_job.hpp"
#include "json/note_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/bodies.hpp"
#include "server/body.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <cstddef>
#include <functional>
#include <string>
#include <utility>
#include <vector>

namespace batten::server {

namespace {

constexpr const char* nothing_kept = "Nothing is kept of a what-if.";
constexpr double deepest = 20;  // mm, as posture_at
constexpr std::size_t most_frames = 120;

// 404 of a note that is not there, 422 of one the model cannot make ready.
Response at_note(Answering& with, const Request& request,
                 const std::function<Response(const Asked&, const NoteBench&)>& answer) {
  return at_piano(with, request, [&](const Asked& asked) {
    auto key = key_at(asked.piano, request.part("note"));
    if (!key) return not_there(key.error());
    auto bench = note_bench(with.cache.notes, with.cache.plans, with.desk, asked.piano, *key);
    if (!bench) return refused(bench.error(), 422);
    return answer(asked, **bench);
  });
}

Result<double> number_in(const nlohmann::json& body, const char* field, double least, double most) {
  const auto found = body.find(field);
  if (found == body.end() || found->is_null()) return 0.0;
  const double value = found->is_number() ? found->get<double>() : std::nan("");
  if (!(value >= least && value <= most))
    return problem(std::string("\"") + field + "\" is no number from " +
                       nlohmann::json(least).dump() + " to " + nlohmann::json(most).dump() + ".",
                   "Send such a number.", nothing_kept);
  return value;
}

Result<std::vector<SliderMove>> moves_in(const nlohmann::json& body) {
  std::vector<SliderMove> moves;
  const auto found = body.find("moves");
  if (found == body.end() || found->is_null()) return moves;
  if (!found->is_object())
    return problem("\"moves\" is no object of adjusters.", "Send such as {\"capstan\": 0.2}.",
                   nothing_kept);
  for (const auto& [adjuster, amount] : found->items()) {
    if (!amount.is_number())
      return problem("The amount of \"" + adjuster + "\" is no number.",
                     "Send it in the slider's unit.", nothing_kept);
    moves.push_back({adjuster, amount.get<double>()});
  }
  return moves;
}

// Of a body: what both questions have in common.
Result<WhatIfRequest> request_in(const nlohmann::json& body) {
  WhatIfRequest out;
  auto moves = moves_in(body);
  if (!moves) return tl::unexpected(moves.error());
  out.moves = std::move(*moves);
  auto start = text_in(body, "start");
  if (!start) return tl::unexpected(start.error());
  if (!start->empty()) {
    auto named = parse_note_start(*start);
    if (!named) return tl::unexpected(named.error());
    out.start = *named;
  }
  return out;
}

}  // namespace

Result<WhatIfRequest> what_if_in(const Request& request) {
  auto body = body_object(request, {"moves", "start", "depth", "frames"});
  if (!body) return tl::unexpected(body.error());
  auto asking = request_in(*body);
  if (!asking) return asking;
  const auto depth = number_in(*body, "depth", 0, deepest);
  if (!depth) return tl::unexpected(depth.error());
  const auto frames = number_in(*body, "frames", 0, most_frames);
  if (!frames) return tl::unexpected(frames.error());
  asking->depth = *depth / 1e3;
  asking->frames = static_cast<std::size_t>(*frames);
  return asking;
}

Result<StrokesAsked> strokes_in(const Request& request) {
  auto body = body_object(request, {"moves", "start", "touch"});
  if (!body) return tl::unexpected(body.error());
  auto asking = request_in(*body);
  if (!asking) return tl::unexpected(asking.error());
  auto touch = text_in(*body, "touch");
  if (!touch) return tl::unexpected(touch.error());
  StrokesAsked out{std::move(*asking), {}};
  if (!touch->empty()) out.strokes.touch = std::move(*touch);
  return out;
}

Response get_note(Answering& with, const Request& request) {
  if (auto asks = only_asks(request, {}); !asks) return refused(asks.error());
  return at_note(with, request, [&](const Asked& asked, const NoteBench& bench) {
    return ok(with_revision(note_to_json(bench), asked.revision));
  });
}

Response post_what_if(Answering& with, const Request& request) {
  return at_note(with, request, [&](const Asked& asked, const NoteBench& bench) {
    auto asking = what_if_in(request);
    if (!asking) return refused(asking.error());
    auto answer = what_if(bench, *asking);
    if (!answer) return refused(answer.error(), 422);
    return ok(with_revision(what_if_to_json(bench, *asking, *answer), asked.revision));
  });
}

Response post_strokes(Answering& with, const Request& request) {
  return at_note(with, request, [&](const Asked& asked, const NoteBench& bench) {
    auto asking = strokes_in(request);
    if (!asking) return refused(asking.error());
    auto played = play_note(bench, asking->what_if, asking->strokes);
    if (!played) return refused(played.error(), 422);
    return ok(with_revision(strokes_to_json(bench, asking->what_if, asking->strokes, *played),
                            asked.revision));
  });
}

}  // namespace batten::server
