#include "stroke_scan.hpp"

#include "profiles/profile_file.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>

namespace batten::action::checks {

const std::vector<Register>& registers() {
  static const std::vector<Register> all = [] {
    std::vector<Register> out;
    for (const char* profile : {"medium", "small", "concert"})
      for (const StoredProfile& stored : stored_profiles()) {
        if (stored.name != profile) continue;
        const auto file = parse_profile(stored.text, stored.name);
        for (const char* key : {"A1", "C4", "C7"}) {
          auto note = file ? prepare_note(file->profile, *parse_key(key))
                           : Result<PreparedNote>(tl::unexpected(file.error()));
          if (!note) {
            std::cerr << profile << ' ' << key << ": " << note.error().sentence() << '\n';
            std::exit(1);
          }
          out.push_back({std::string(profile) + " " + key, std::move(*note)});
        }
      }
    return out;
  }();
  return all;
}

Scan scan(const Note& note, Touch touch) {
  const std::vector<double> efforts =
      touch == Touch::pressed
          ? std::vector<double>{1.2, 1.5, 2, 2.7, 3.5, 5, 8, 13, 22, 40, 80, 150, 260, 400}
          : std::vector<double>{0.01, 0.02, 0.04, 0.06, 0.09, 0.12,
                                0.16, 0.22, 0.3,  0.4,  0.5,  0.62};
  std::vector<Finger> fingers;
  for (const double effort : efforts) {
    Finger f;
    f.touch = touch;
    f.effort = effort;
    fingers.push_back(f);
  }
  StrokeOptions options;
  options.time = 0.3;
  options.keep_trace = true;
  Scan out;
  for (auto& stroke : calc_strokes({&note, 1}, fingers, options)) out.strokes.push_back(*stroke);
  return out;
}

double Scan::at(double v, const std::function<double(const Stroke&)>& value) const {
  for (std::size_t k = 1; k < strokes.size(); ++k) {
    const double a = strokes[k - 1].hammer_speed, b = strokes[k].hammer_speed;
    if (a <= v && v <= b)
      return value(strokes[k - 1]) +
             (v - a) / (b - a) * (value(strokes[k]) - value(strokes[k - 1]));
  }
  return std::nan("");
}

std::pair<double, double> Scan::range(double low, double high,
                                      const std::function<double(const Stroke&)>& value) const {
  double least = std::nan(""), most = std::nan("");
  for (const Stroke& s : strokes) {
    if (s.hammer_speed < low || s.hammer_speed > high) continue;
    least = std::fmin(least, value(s));
    most = std::fmax(most, value(s));
  }
  return {least, most};
}

double bottom_after_string(const Stroke& s) { return s.key_bottom - s.string; }

double force_on_the_way(const Stroke& s) {
  const double end = std::fmin(s.string, s.key_bottom);
  double most = 0;
  for (const TracePoint& p : s.trace)
    if (p.time < end) most = std::max(most, p.finger_force);
  return most;
}

double speed_ratio_at_let_off(const Stroke& s) {
  for (const TracePoint& p : s.trace)
    if (p.time >= s.let_off) return p.hammer_speed / p.key_speed;
  return std::nan("");
}

Span span_at(const Line (&lines)[3], double v) {
  Span s{1e9, 0};
  for (const Line& line : lines) {
    const double ms = line.factor * std::pow(v, line.exponent);
    s.low = std::min(s.low, ms);
    s.high = std::max(s.high, ms);
  }
  return s;
}

}  // namespace batten::action::checks
