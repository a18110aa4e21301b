// A hidden piano with no mechanism inside: hand-written tables of what follows what, with steps,
// backlash and bends; the second kind of truth.
#pragma once

#include "workshop/hidden_piano.hpp"
#include "workshop/misregulation.hpp"

namespace batten::workshop {

// Shares, uniform unless said; all estimates.
struct TableLaw {
  double response = 0.2;         // of each table's slope from piano to piano, screw pitch included
  double response_note = 0.03;   // from note to note, sd
  double side_effect = 0.3;      // of each side effect's size from piano to piano
  double backlash = 0.03;        // of a screw's usual span: lost when turned back, sd
  double ratio = 0.05;           // of the action ratio from piano to piano
  double ratio_note = 0.01;      // from note to note, sd
  double string_scatter = 0.05;  // mm, sd
};

class TablePiano : public HiddenPiano {
 public:
  std::unique_ptr<HiddenPiano> copy() const override;
  std::string_view looks_like() const override { return "medium"; }

 private:
  friend std::unique_ptr<TablePiano> make_table_piano(std::uint64_t, const TableLaw&);
  explicit TablePiano(StringLine strings, Key first_undamped, std::uint64_t seed)
      : HiddenPiano(std::move(strings), first_undamped, seed) {}
  std::vector<NoteTruth> calc(std::span<const Key> keys) override;
  void move(Key key, Adjuster adjuster, double amount) override;
  void change_friction() override;

  using PerAdjuster = std::array<double, note_adjuster_count>;
  struct Note {
    PerAdjuster screw{},
        felt{};  // where the screw stands; where what it moves stands; mm (spring: tenths)
    PerAdjuster pitch{}, backlash{};
    double ratio = 5;
    std::array<double, aim_count> set{};  // what it reads with everything at 0
  };
  NoteTruth calc_note(const Note& note) const;

  std::vector<Note> notes_;
  PerAdjuster bend_{};            // how far each table is bent on this piano
  std::array<double, 8> side_{};  // sizes of the side effects on this piano
  double day_ = 0;
};

std::unique_ptr<TablePiano> make_table_piano(std::uint64_t seed, const TableLaw& law = {});

}  // namespace batten::workshop
