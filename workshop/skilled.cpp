#include "core/keyboard/samples.hpp"
#include "workshop/reference_pass.hpp"
#include "workshop/reference_technicians.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace batten::workshop {
namespace {

using namespace reference;
using enum Adjuster;

class Skilled : public Technician {
 public:
  std::string_view name() const override { return "skilled"; }

  void work(Hands& hands) override {
    const HiddenPiano& piano = hands.piano();
    targets_.clear();
    learned_ = {};
    own_.clear();
    keys_ = all_keys(piano);
    for (const Key k : keys_) targets_.push_back(makers_sheet(piano, k));
    samples_ = propose_samples(piano.sections());
    fill_.clear();
    for (const Section& s : piano.sections())
      for (const Key k : fill_by_halves(s, samples_)) fill_.push_back(k);

    // What moves others first: keys, then what the hammer rests on, then the springs.
    by_samples(hands, balance_punchings, naturals_first(samples_), naturals_first(fill_));
    by_samples(hands, jack_button, samples_, fill_);
    pass(hands, repetition_spring, keys_, Way::gauge, 1);
    by_samples(hands, lever_height_button, samples_, fill_);
    // The samples in full, and from them the dip that this piano wants.
    for (const Adjuster a : {capstan, let_off_button, drop_screw})
      pass(hands, a, samples_, Way::gauge, 0.65);
    free_hammers(hands, samples_);
    choose_dip(hands);
    // Then each line between them.
    pass(hands, capstan, fill_, Way::eye, 0.75, &samples_);
    pass(hands, capstan, fill_, Way::eye, 1, &samples_);  // along the line once more
    pass(hands, front_punchings, keys_, Way::eye, 0.75);
    pass(hands, let_off_button, fill_, Way::eye, 0.9);
    free_hammers(hands, fill_);
    pass(hands, drop_screw, fill_, Way::eye, 0.9);
    own_ = targets_;
    feel(hands, keys_);
    pass(hands, back_check, keys_, Way::eye, 0.9);
    by_samples(hands, damper_wire, with_dampers(piano, samples_), with_dampers(piano, fill_));
    spot_check(hands);
    free_hammers(hands, keys_);
  }

 private:
  std::size_t at(Key k) const { return static_cast<std::size_t>(k.number - keys_.front().number); }

  std::vector<Key> pass(Hands& hands, Adjuster adjuster, const std::vector<Key>& keys, Way way,
                        double share, const std::vector<Key>* line = nullptr) {
    Pass p;
    p.adjuster = adjuster;
    p.keys = keys;
    p.way = way;
    p.accept = share * close_by[index_of(aim_for(adjuster))];
    p.tries = 3;
    p.learned = &learned_;
    p.line = line;
    return go_over(hands, p, own_.empty() ? targets_ : own_);
  }

  void by_samples(Hands& hands, Adjuster adjuster, const std::vector<Key>& samples,
                  const std::vector<Key>& fill) {
    pass(hands, adjuster, samples, Way::gauge, 0.75);
    pass(hands, adjuster, fill, Way::eye, 1);
  }

  // Reads dip and aftertouch of the samples, and sets the section's dip so that the aftertouch
  // comes to the usual, as far as a maker's dip can be stretched; what is then left is the
  // section's own.
  void choose_dip(Hands& hands) {
    constexpr double stretch = 0.6;
    const std::size_t d = index_of(Aim::dip), a = index_of(Aim::aftertouch);
    const auto dips = hands.read(samples_, Aim::dip);
    const auto afters = hands.read(samples_, Aim::aftertouch);
    std::vector<double> shift;
    double mean_of_all = 0;
    int of_all = 0;
    for (const Section& s : hands.piano().sections()) {
      double sum = 0;
      int count = 0;
      for (std::size_t i = 0; i < samples_.size(); ++i) {
        const double need =
            targets_[at(samples_[i])][a] - afters[i] + dips[i] - targets_[at(samples_[i])][d];
        if (!s.contains(samples_[i]) || !(std::abs(need) < 1.5)) continue;
        sum += need;
        ++count;
      }
      shift.push_back(count > 0 ? sum / count : 0);
      mean_of_all += sum;
      of_all += count;
    }
    mean_of_all /= std::max(1, of_all);
    for (std::size_t i = 0; i < shift.size(); ++i) {
      // A section differs from the whole by what is there and by what was misread.
      const double wanted = mean_of_all + 0.7 * (shift[i] - mean_of_all);
      const double given = std::clamp(wanted, -stretch, stretch);
      for (const Key k : keys_) {
        if (!hands.piano().sections()[i].contains(k)) continue;
        targets_[at(k)][d] += given;
        targets_[at(k)][a] += given - wanted;
      }
    }
  }

  // Presses each key to its bottom and feels the aftertouch; a paper where a note stands out, as
  // far as its dip can spare it. Sharps have their own middle.
  void feel(Hands& hands, const std::vector<Key>& keys) {
    const std::size_t a = index_of(Aim::aftertouch);
    const auto read = hands.read(keys, Aim::aftertouch, Way::eye);
    for (const bool sharps : {false, true}) {
      std::vector<double> off;
      for (std::size_t i = 0; i < keys.size(); ++i)
        if (is_sharp(keys[i]) == sharps && read[i] == read[i])
          off.push_back(read[i] - targets_[at(keys[i])][a]);
      if (off.empty()) continue;
      const auto middle = off.begin() + static_cast<std::ptrdiff_t>(off.size() / 2);
      std::ranges::nth_element(off, middle);
      // Samples are naturals: what the sharps come to as a whole is theirs, within reason.
      const double own = std::clamp(*middle, -0.25, 0.25);
      for (std::size_t i = 0; i < keys_.size(); ++i)
        if (is_sharp(keys_[i]) == sharps) targets_[i][a] += own;
    }
    std::vector<MoveMeant> moves;
    for (std::size_t i = 0; i < keys.size(); ++i) {
      const double off = targets_[at(keys[i])][a] - read[i];
      if (!(std::abs(off) > close_by[a])) continue;
      const std::size_t d = index_of(Aim::dip);
      double& dip = own_[at(keys[i])][d];
      const double was = dip, wanted = targets_[at(keys[i])][d];
      dip = std::clamp(dip + off - (off < 0 ? -0.05 : 0.05), wanted - 0.1, wanted + 0.1);
      const double amount =
          as_made(front_punchings, (dip - was) / learned_.per_unit(front_punchings));
      if (amount != 0)
        moves.push_back(
            {keys[i], front_punchings, amount, std::numeric_limits<double>::quiet_NaN()});
    }
    if (moves.empty()) return;
    hands.take_up(front_punchings);
    hands.turn(moves);
  }

  // Every third note with the gauge; where one is out it is put right, and its neighbours are
  // looked at too.
  void spot_check(Hands& hands) {
    for (const Adjuster adjuster :
         {capstan, front_punchings, let_off_button, drop_screw, back_check}) {
      const Aim aim = aim_for(adjuster);
      std::vector<Key> spots;
      for (std::size_t i = 1; i < keys_.size(); i += 3) spots.push_back(keys_[i]);
      const auto read = hands.read(spots, aim);
      std::vector<Key> again;
      std::vector<double> known;
      std::vector<Key> beside;
      for (std::size_t i = 0; i < spots.size(); ++i) {
        const double off = read[i] - own_[at(spots[i])][index_of(aim)];
        if (std::abs(off) <= close_by[index_of(aim)]) continue;
        again.push_back(spots[i]);
        known.push_back(read[i]);
        for (const int step : {-1, 1})
          if (const Key k{spots[i].number + step}; hands.piano().compass().contains(k))
            beside.push_back(k);
      }
      Pass p;
      p.adjuster = adjuster;
      p.accept = close_by[index_of(aim)];
      p.tries = 3;
      p.learned = &learned_;
      p.keys = again;
      p.known = &known;
      go_over(hands, p, own_);
      p.keys = beside;
      p.known = nullptr;
      go_over(hands, p, own_);
    }
  }

  Turn learned_;
  std::vector<NoteTargets> own_;  // as targets_, dips of single notes given way
  std::vector<Key> keys_, samples_, fill_;
};

}  // namespace

std::unique_ptr<Technician> skilled() { return std::make_unique<Skilled>(); }

}  // namespace batten::workshop
