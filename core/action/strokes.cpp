#include "core/action/strokes.hpp"

#include "core/action/stroke_group.hpp"

#include <cmath>
#include <cstddef>
#include <utility>

namespace batten::action {

namespace {

// A repeating finger leaves the key this long after bottom or string, and lets it up at this speed:
// a trained hand (estimate).
constexpr double repetition_hold = 0.004;   // s
constexpr double repetition_release = 0.5;  // m/s

Unison unison_of(const Dimensions& d) {
  return {static_cast<int>(std::lround(d.string_count)), d.string_tension, d.string_length,
          d.string_mass, d.strike_point};
}
HammerFelt felt_of(const Dimensions& d) { return {d.head_felt, d.head_felt_exponent}; }

Stroke blank() {
  Stroke s;
  s.key_start = s.let_off = s.string = s.string_end = s.key_bottom = s.check = s.jack_return =
      s.check_distance = s.second_string = s.free_flight = s.travel_time = detail::never;
  return s;
}

Result<mechanism::Model<double>> model_for(const Note& note, const Finger& finger) {
  auto description = assemble(note.dimensions, note.adjustments);
  if (!description) return tl::unexpected(description.error());
  description->bodies[action::finger].mass = detail::finger_mass(finger);
  description->contacts[finger_key].law = detail::fingertip(finger);
  return mechanism::make_model(*description);
}

// One stroke to be run: which note, which finger.
struct Job {
  std::size_t note = 0, finger = 0;
};

using Runner = void (*)(const detail::StrokeGroup&);

Runner best_runner() {
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl"))
    return detail::run_group_avx512;
  if (__builtin_cpu_supports("avx2")) return detail::run_group_avx2;
#endif
  return detail::run_group_base;
}

Result<void> check(const Finger& finger) {
  if (finger.way == Finger::Way::force && !(finger.effort > 0 && finger.effort < 1e4))
    return problem("The finger's effort is not a positive number.", "Give it newtons or m/s.");
  if (finger.way == Finger::Way::position && (finger.depths.empty() || !(finger.interval > 0)))
    return problem("The key's path has no points.", "Give depths and their interval.");
  return {};
}

}  // namespace

std::vector<Result<Stroke>> calc_strokes(std::span<const Note> notes,
                                         std::span<const Finger> fingers,
                                         const StrokeOptions& options) {
  std::vector<Result<Stroke>> out(notes.size() * fingers.size(), Stroke{});
  const auto place = [&](const Job& job) { return job.note * fingers.size() + job.finger; };
  std::vector<std::size_t> good_notes;
  std::vector<StruckUnison> strings;
  // Fingers that move the key alike share a model of each note; forces and paths differ in that.
  const auto kind = [&](std::size_t f) {
    return fingers[f].way == Finger::Way::position ? 2 : static_cast<int>(fingers[f].touch);
  };
  std::vector<Result<mechanism::Model<double>>> models[3];
  std::vector<Job> jobs;
  for (std::size_t f = 0; f < fingers.size(); ++f) {
    auto& of_kind = models[kind(f)];
    if (of_kind.empty())
      for (const Note& note : notes) of_kind.push_back(model_for(note, fingers[f]));
    const auto ok = check(fingers[f]);
    for (std::size_t n = 0; n < notes.size(); ++n) {
      const Job job{n, f};
      if (!ok)
        out[place(job)] = tl::unexpected(ok.error());
      else if (!of_kind[n])
        out[place(job)] = tl::unexpected(of_kind[n].error());
      else
        jobs.push_back(job);
    }
  }
  // Jobs are ordered by finger, so that those side by side take about as long.
  const Runner run = best_runner();
  std::size_t done = 0;
  while (done < jobs.size()) {
    detail::LaneBook books[mechanism::lane_count];
    const mechanism::Model<double>* lanes[mechanism::lane_count] = {};
    strings.clear();
    strings.reserve(mechanism::lane_count);
    int used = 0;
    const int first_kind = kind(jobs[done].finger);
    while (used < mechanism::lane_count && done + static_cast<std::size_t>(used) < jobs.size()) {
      const Job& job = jobs[done + static_cast<std::size_t>(used)];
      if (kind(job.finger) != first_kind) break;
      const Dimensions& d = notes[job.note].dimensions;
      strings.emplace_back(unison_of(d), felt_of(d));
      books[used].strings = &strings.back();
      books[used].finger = detail::start_finger(fingers[job.finger], options);
      books[used].time = books[used].finger.quiet();
      books[used].out = blank();
      books[used].model = &*models[first_kind][job.note];
      lanes[used] = &*models[first_kind][job.note];
      ++used;
    }
    const detail::StrokeGroup group{lanes, books, used, &options};
    // Two notes alone are quicker one after the other; losses are booked note by note.
    if (used <= 2 || options.book_energy)
      for (int k = 0; k < used; ++k) detail::run_group<double>({lanes + k, books + k, 1, &options});
    else
      run(group);
    for (int k = 0; k < used; ++k)
      out[place(jobs[done + static_cast<std::size_t>(k)])] = std::move(books[k].out);
    done += static_cast<std::size_t>(used);
  }
  return out;
}

Result<Stroke> calc_stroke(const Note& note, const Finger& finger, const StrokeOptions& options) {
  return std::move(calc_strokes({&note, 1}, {&finger, 1}, options).front());
}

Result<double> find_repetition(const Note& note, const Finger& finger, double partial) {
  StrokeOptions options;
  options.time = 0.35;
  const auto single = calc_stroke(note, finger, options);
  if (!single) return tl::unexpected(single.error());
  if (std::isnan(single->string)) return detail::never;
  // The finger lets go when the key has reached its bottom, or the hammer the string.
  Finger plan = finger;
  plan.hold = std::fmax(single->string,
                        std::isnan(single->key_bottom) ? single->string : single->key_bottom) +
              repetition_hold;
  options.release_to = partial;
  options.release_speed = repetition_release;
  // Eight second strokes side by side, then eight more around the first that works.
  double first = plan.hold + 0.005, step = 0.010, best = detail::never;
  for (int round = 0; round < 3; ++round) {
    bool found = false;
    for (int block = 0; block < 4 && !found; ++block) {
      std::vector<Note> notes(mechanism::lane_count, note);
      detail::LaneBook books[mechanism::lane_count];
      auto model = model_for(note, plan);
      if (!model) return tl::unexpected(model.error());
      std::vector<StruckUnison> strings;
      strings.reserve(mechanism::lane_count);
      const mechanism::Model<double>* lanes[mechanism::lane_count];
      for (int k = 0; k < mechanism::lane_count; ++k) {
        strings.emplace_back(unison_of(note.dimensions), felt_of(note.dimensions));
        StrokeOptions own = options;
        own.again_at = first + step * (block * mechanism::lane_count + k);
        books[k].strings = &strings.back();
        books[k].finger = detail::start_finger(plan, own);
        books[k].time = books[k].finger.quiet();
        books[k].out = blank();
        books[k].model = &*model;
        lanes[k] = &*model;
      }
      best_runner()({lanes, books, mechanism::lane_count, &options});
      for (int k = 0; k < mechanism::lane_count && !found; ++k) {
        const Stroke& s = books[k].out;
        if (!(s.second_speed >= 0.5 * s.hammer_speed) || std::isnan(s.second_string)) continue;
        found = true;
        best = s.second_string - s.string;
        first = first + step * (block * mechanism::lane_count + k - 1);
        step /= mechanism::lane_count;
      }
      if (round > 0) break;
    }
    if (!found) break;
  }
  return best;
}

}  // namespace batten::action
