#include "core/regulation/brief/bench.hpp"

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

// The natural nearest to a place, the lower of two.
Key natural_near(Compass compass, int position) {
  Key key = compass.at(std::clamp(position, 0, compass.count() - 1));
  if (is_sharp(key)) --key.number;  // both ends are naturals
  return key;
}

// The sharp nearest to the middle of the compass, where it is no register already.
Key middle_sharp(Compass compass) {
  Key key = compass.at(compass.count() / 2);
  while (!is_sharp(key)) ++key.number;
  return key;
}

}  // namespace

std::vector<Register> usual_registers(Compass compass, const std::vector<Section>& sections) {
  std::vector<Register> list;
  if (sections.size() < 3) {
    // A1, C4 and C7 of 88 keys.
    constexpr double places[] = {12.0 / 87, 39.0 / 87, 75.0 / 87};
    constexpr const char* names[] = {"bass", "middle", "treble"};
    for (std::size_t i = 0; i < std::size(places); ++i)
      list.push_back(
          {natural_near(compass, static_cast<int>(std::lround(places[i] * (compass.count() - 1)))),
           names[i]});
  } else {
    for (std::size_t i = 0; i < sections.size(); ++i) {
      const Key middle{(sections[i].first.number + sections[i].last.number) / 2};
      list.push_back(
          {natural_near(compass, compass.position(middle)), "section " + std::to_string(i + 1)});
    }
  }
  list.push_back({middle_sharp(compass), "sharps"});
  std::ranges::sort(list, {}, &Register::key);
  return list;
}

action::Wanted wanted_at(const action::Profile& profile, const Targets& targets, Key key) {
  using action::Wanted;
  Wanted w = note_of(profile, key).wanted;
  const auto take = [&](Aim aim, double Wanted::*member, double unit) {
    if (const auto value = targets.at(aim, key)) w.*member = *value / unit;
  };
  take(Aim::blow, &Wanted::blow, brief::per_mm);
  take(Aim::dip, &Wanted::dip, brief::per_mm);
  take(Aim::let_off, &Wanted::let_off, brief::per_mm);
  take(Aim::drop, &Wanted::drop, brief::per_mm);
  take(Aim::check_distance, &Wanted::check_distance, brief::per_mm);
  take(Aim::jack_clearance, &Wanted::jack_clearance, brief::per_mm);
  take(Aim::jack_position, &Wanted::jack_position, brief::per_mm);
  take(Aim::damper_start, &Wanted::damper_start, 1);
  return w;
}

namespace brief {

Result<Bench> make_bench(const BriefTask& task, const Register& where) {
  if (task.profile == nullptr)
    return problem("There is no action profile to ask.", "Choose one, or fit one to the piano.");
  if (auto ok = action::check(*task.profile); !ok) return tl::unexpected(ok.error());
  const action::Anchor anchor = note_of(*task.profile, where.key);
  Bench bench;
  bench.where = where;
  bench.dimensions = anchor.dimensions;
  auto lead = action::solve_lead({anchor.dimensions, {}}, anchor.balance_weight);
  if (!lead) {
    Problem p = lead.error();
    p.happened = note_name(where.key) + ": " + p.happened;
    return tl::unexpected(std::move(p));
  }
  bench.dimensions.lead_mass = *lead;
  bench.wanted = wanted_at(*task.profile, task.targets, where.key);
  const action::Wanted& w = bench.wanted;
  bench.sheet = {w.blow * per_mm, w.dip * per_mm, w.let_off * per_mm, w.drop * per_mm};
  bench.wanted_clearance = w.jack_clearance * per_mm;
  bench.wanted_check = w.check_distance * per_mm;
  bench.bands = task.wishes.needs;
  const auto widen = [&](Need need, double value) {
    Band& band = bench.bands[index_of(need)];
    if (band.on_record) return;
    band.low = std::min(band.low, value);
    band.high = std::max(band.high, value);
  };
  widen(Need::blow, bench.sheet.blow);
  widen(bench.dip_need(), bench.sheet.dip);
  widen(Need::let_off, bench.sheet.let_off);
  widen(Need::drop, bench.sheet.drop);
  widen(Need::check_distance, bench.wanted_check);
  widen(Need::jack_clearance, bench.wanted_clearance);
  if (const auto a = task.targets.at(Aim::aftertouch, where.key)) widen(Need::aftertouch, *a);
  return bench;
}

action::Wanted wanted_for(const Bench& bench, const BriefPoint& point) {
  action::Wanted w = bench.wanted;
  w.blow = point.blow / per_mm;
  w.dip = point.dip / per_mm;
  w.let_off = point.let_off / per_mm;
  w.drop = point.drop / per_mm;
  return w;
}

}  // namespace brief

}  // namespace batten
