#include "workshop/reference_pass.hpp"
#include "workshop/reference_technicians.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace batten::workshop {
namespace {

using namespace reference;
using enum Adjuster;

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

double median(std::vector<double> values) {
  std::erase_if(values, [](double x) { return !(x == x); });
  if (values.empty()) return nothing;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  return *middle;
}

class ByTheBook : public Technician {
 public:
  std::string_view name() const override { return "by the book"; }

  void work(Hands& hands) override {
    const HiddenPiano& piano = hands.piano();
    targets_.clear();
    const std::vector<Key> keys = all_keys(piano);
    for (const Key k : keys) targets_.push_back(makers_sheet(piano, k));
    own_ = targets_;
    // `doubt`: how much of a reading's own error is granted before a note counts as out.
    const auto pass = [&](Adjuster adjuster, const std::vector<Key>& at, double share = 1,
                          double doubt = 0) {
      const std::size_t aim = index_of(aim_for(adjuster));
      Pass p;
      p.adjuster = adjuster;
      p.keys = at;
      p.accept = share * close_by[aim] + doubt * hands.law().gauge[aim];
      return go_over(hands, p, own_);
    };

    pass(balance_punchings, naturals_first(keys));
    pass(jack_button, keys);
    pass(lever_height_button, keys);
    rough(hands, keys);
    pass(repetition_spring, keys);
    pass(capstan, keys);
    pass(front_punchings, keys);
    pass(let_off_button, keys);
    free_hammers(hands, keys);
    pass(drop_screw, keys);
    pass(repetition_spring, keys);
    pass(back_check, keys);
    aftertouch(hands, keys);
    pass(damper_wire, with_dampers(piano, keys));

    // Round again until there is next to nothing to do, or no less than the round before: then it
    // is the gauges that disagree.
    std::size_t last = 7 * keys.size();
    for (int round = 0; round < 5; ++round) {
      std::size_t turned = wink(hands, keys).size();
      for (const Adjuster a : {capstan, front_punchings, let_off_button, drop_screw, back_check})
        turned += pass(a, keys, 1, 1).size();
      turned += aftertouch(hands, keys);
      if (turned <= keys.size() / 5 || 10 * turned > 7 * last) break;
      last = turned;
    }
    free_hammers(hands, keys);
  }

 private:
  // Jack clearance again, by the hammer's wink.
  std::vector<Key> wink(Hands& hands, const std::vector<Key>& keys) {
    Pass p;
    p.adjuster = lever_height_button;
    p.keys = keys;
    p.way = Way::eye;
    p.accept = 1.2 * close_by[index_of(Aim::jack_clearance)];
    return go_over(hands, p, own_);
  }

  // Only what is far out, by eye: so that springs and checks can be read at all.
  void rough(Hands& hands, const std::vector<Key>& keys) {
    for (const Adjuster a : {capstan, let_off_button, drop_screw, back_check}) {
      Pass p;
      p.adjuster = a;
      p.keys = keys;
      p.way = Way::eye;
      p.accept = 4 * around[index_of(aim_for(a))];
      p.again = false;
      go_over(hands, p, own_);
    }
  }

  // Reads every aftertouch. What a section has on the average stays if it can be played, else its
  // dip gives way; single notes are brought back by a paper, as far as their dip allows. Returns
  // how many papers were changed.
  std::size_t aftertouch(Hands& hands, const std::vector<Key>& keys) {
    const std::size_t a = index_of(Aim::aftertouch), d = index_of(Aim::dip);
    const auto read = hands.read(keys, Aim::aftertouch);
    const auto at = [&](Key k) {
      return static_cast<std::size_t>(hands.piano().compass().position(k));
    };
    std::vector<MoveMeant> moves;
    for (const Section& section : hands.piano().sections())
      for (const bool sharps : {false, true}) {
        std::vector<double> here;
        for (const Key k : keys)
          if (section.contains(k) && is_sharp(k) == sharps) here.push_back(read[at(k)]);
        const double middle = median(here);
        // The figure is "0.8 to 1.6": inside, the section's own is as good as another.
        const double wanted = std::clamp(middle, 0.9, 1.5);
        const double shift = std::abs(wanted - middle) > 0.05 ? wanted - middle : 0;
        for (const Key k : keys) {
          if (!section.contains(k) || is_sharp(k) != sharps) continue;
          NoteTargets& t = targets_[at(k)];
          t[a] = wanted;
          t[d] += shift;
          const double was = own_[at(k)][d];
          // What the section is out comes off at once; what a single note is, as far as its dip can
          // spare, and it then keeps that dip.
          const double off = wanted - read[at(k)] - shift;
          double& dip = own_[at(k)][d];
          dip += shift;
          if (std::abs(off) > close_by[a])
            dip = std::clamp(dip + off - (off < 0 ? -0.05 : 0.05), t[d] - 0.1, t[d] + 0.1);
          const double amount =
              as_made(front_punchings, (dip - was) / usual_turn[index_of(front_punchings)]);
          if (amount != 0) moves.push_back({k, front_punchings, amount, nothing});
        }
      }
    if (moves.empty()) return 0;
    hands.take_up(front_punchings);
    hands.turn(moves);
    return moves.size();
  }

  std::vector<NoteTargets> own_;  // as targets_, dips of single notes given way
};

}  // namespace

std::unique_ptr<Technician> by_the_book() { return std::make_unique<ByTheBook>(); }

}  // namespace batten::workshop
