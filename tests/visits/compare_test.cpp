// Journals made by hand, whose differences are known because we wrote them.
#include "core/regulation/visits/visits.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

namespace batten {
namespace {

const Compass whole{};

// A crown rises five times what the capstan does, the blow shrinks by it and the aftertouch grows
// by a fifth of that; every other adjuster moves its own aim one for one.
ActionModel simple_model() {
  ActionModel model;
  model.compass = whole;
  model.notes.resize(static_cast<std::size_t>(whole.count()));
  for (NoteModel& n : model.notes) {
    for (std::size_t a = 0; a < note_adjuster_count; ++a)
      n.influence(static_cast<Eigen::Index>(aim_for(static_cast<Adjuster>(a))),
                  static_cast<Eigen::Index>(a)) = 1;
    const auto capstan = static_cast<Eigen::Index>(Adjuster::capstan);
    n.influence(static_cast<Eigen::Index>(Aim::blow), capstan) = -5;
    n.influence(static_cast<Eigen::Index>(Aim::aftertouch), capstan) = 1;
  }
  return model;
}

class Journal {
 public:
  Uuid visit(std::uint8_t number) {
    Uuid id;
    id.bytes[0] = number;
    now_ = id;
    if (std::ranges::find(order, id) == order.end()) order.push_back(id);
    return id;
  }
  void set(const char* name, const char* value) { add(SettingChosen{name, value}); }
  void read(Reading reading, int key, double value, double sd = 0.1) {
    add(ReadingTaken{reading, Key{key}, value, sd, "", ""});
  }
  void turn(Adjuster adjuster, int key, double amount) {
    add(MoveMade{adjuster, Key{key}, amount, ""});
  }

  VisitsCompared compare(const Uuid& from, const Uuid& to) const {
    const Standing standing = fold(entries_);
    const ActionModel model = simple_model();
    const auto situation = calc_situation(whole, standing, model);
    EXPECT_TRUE(situation) << (situation ? "" : situation.error().sentence());
    return compare_visits(standing, *situation, model, order, from, to);
  }

  std::vector<Uuid> order;

 private:
  void add(EntryContent content) {
    Entry e;
    e.id.bytes[15] = static_cast<std::uint8_t>(entries_.size() & 255U);
    e.id.bytes[14] = static_cast<std::uint8_t>(entries_.size() >> 8U);
    e.id.bytes[0] = 1;
    e.visit = now_;
    e.at_ms = static_cast<std::int64_t>(entries_.size()) * 1000;
    e.content = std::move(content);
    entries_.push_back(std::move(e));
  }
  Uuid now_;
  std::vector<Entry> entries_;
};

const ReadingCompared* of(const VisitsCompared& c, Reading reading) {
  const auto found = std::ranges::find(c.readings, reading, &ReadingCompared::reading);
  return found == c.readings.end() ? nullptr : &*found;
}

Journal begun() {
  Journal j;
  j.visit(1);
  j.set("sections", "E2 bridge, A#4 strut, D6 strut");
  return j;
}

// Let-off of the bass wandered by +0.6 mm, that of the middle by nothing; the middle's gauge of the
// first visit and the second read the same figures.
TEST(CompareVisits, TellsWhatMovedByItselfAndWhere) {
  Journal j = begun();
  const Uuid a = j.visit(1);
  for (int key = 1; key <= 15; key += 2) j.read(Reading::let_off, key, 2.0);
  for (int key = 25; key <= 45; key += 4) j.read(Reading::let_off, key, 1.8);
  const Uuid b = j.visit(2);
  for (int key = 1; key <= 15; key += 2) j.read(Reading::let_off, key, 2.6);
  for (int key = 25; key <= 45; key += 4) j.read(Reading::let_off, key, 1.8);
  const auto c = j.compare(a, b);
  ASSERT_EQ(c.readings.size(), 1U);
  const auto& shifts = c.readings[0].by_itself;
  ASSERT_EQ(shifts.size(), 3U);  // all, bass, middle
  EXPECT_FALSE(shifts[0].section);
  EXPECT_EQ(shifts[0].notes, 14);
  EXPECT_EQ(shifts[1].section, 0U);
  EXPECT_NEAR(shifts[1].mean, 0.6, 1e-12);
  EXPECT_TRUE(shifts[1].beyond_noise);
  EXPECT_EQ(shifts[2].section, 1U);
  EXPECT_NEAR(shifts[2].mean, 0, 1e-12);
  EXPECT_FALSE(shifts[2].beyond_noise);
  EXPECT_TRUE(c.readings[0].changed.empty());
  EXPECT_TRUE(c.adjusters.empty());
}

// The button was turned in the first visit after its reading, and again in one between: both are
// carried, and what was found beside them is no wandering. One for one per millimetre at the part.
TEST(CompareVisits, MovesBetweenAreNoWandering) {
  Journal j = begun();
  const Uuid a = j.visit(1);
  const double pitch = screw_prior(Adjuster::let_off_button).per_unit;  // mm a turn
  for (int key = 1; key <= 15; key += 2) {
    j.read(Reading::let_off, key, 3.0);
    j.turn(Adjuster::let_off_button, key, -0.5 / pitch);
  }
  j.visit(2);
  for (int key = 1; key <= 15; key += 2) j.turn(Adjuster::let_off_button, key, -0.5 / pitch);
  const Uuid b = j.visit(3);
  for (int key = 1; key <= 15; key += 2) j.read(Reading::let_off, key, 2.0);
  const auto c = j.compare(a, b);
  ASSERT_EQ(c.readings.size(), 1U);
  EXPECT_NEAR(c.readings[0].by_itself[0].mean, 0, 0.12);
  EXPECT_FALSE(c.readings[0].by_itself[0].beyond_noise);
  // A turn is not known as well as a reading: its share counts (screw_prior, 15 % and more).
  EXPECT_GT(c.readings[0].alone[0].sd, 0.1 * std::sqrt(2.0));
}

TEST(CompareVisits, ChangedIsFoundToLeft) {
  Journal j = begun();
  const Uuid a = j.visit(1);
  for (int key = 1; key <= 15; key += 2) j.read(Reading::let_off, key, 2.0);
  const Uuid b = j.visit(2);
  for (int key = 1; key <= 15; key += 2) {
    j.read(Reading::let_off, key, 2.7);
    j.turn(Adjuster::let_off_button, key, key == 1 ? -0.25 : -0.5);
    j.turn(Adjuster::let_off_button, key, 0.125);
    if (key != 15) j.read(Reading::let_off, key, 2.0);
  }
  const auto c = j.compare(a, b);
  const auto* let_off = of(c, Reading::let_off);
  ASSERT_NE(let_off, nullptr);
  ASSERT_EQ(let_off->worked.size(), 8U);
  EXPECT_NEAR(let_off->worked[0].value, -0.7, 1e-12);  // read before and after
  // Not read again: what the model makes of −0.375 turns.
  EXPECT_NEAR(let_off->worked[7].value, -0.375 * screw_prior(Adjuster::let_off_button).per_unit,
              0.2);
  ASSERT_EQ(c.adjusters.size(), 1U);
  const AdjusterCompared& button = c.adjusters[0];
  EXPECT_EQ(button.adjuster, Adjuster::let_off_button);
  EXPECT_EQ(button.moves, 16);
  EXPECT_EQ(button.notes, 8);
  EXPECT_NEAR(button.positive, 1.0, 1e-12);
  EXPECT_NEAR(button.negative, 3.75, 1e-12);
  ASSERT_EQ(button.by_register.size(), 1U);
  EXPECT_NEAR(button.by_register[0].mean, (-0.125 + 7 * -0.375) / 8, 1e-12);
}

// A note first read after its own screw was turned was not found, and tells nothing of the time
// between; nor does one that only one of the visits read.
TEST(CompareVisits, WhatWasNotFoundTellsNothing) {
  Journal j = begun();
  const Uuid a = j.visit(1);
  j.read(Reading::let_off, 1, 2.0);
  j.read(Reading::let_off, 3, 2.0);
  const Uuid b = j.visit(2);
  j.turn(Adjuster::let_off_button, 1, 0.5);
  j.read(Reading::let_off, 1, 2.5);
  j.read(Reading::let_off, 5, 2.0);
  const auto c = j.compare(a, b);
  EXPECT_EQ(of(c, Reading::let_off), nullptr);
  EXPECT_EQ(c.adjusters.size(), 1U);
}

// A capstan carries the aftertouch with it: seen as changed, by a fifth of the blow.
TEST(CompareVisits, NeighbouringReadingsAreCarried) {
  Journal j = begun();
  const Uuid a = j.visit(1);
  for (int key = 1; key <= 15; key += 2) j.read(Reading::aftertouch, key, 1.2);
  const Uuid b = j.visit(2);
  for (int key = 1; key <= 15; key += 2) {
    j.read(Reading::aftertouch, key, 1.2);
    j.turn(Adjuster::capstan, key, 0.1);
  }
  const auto c = j.compare(a, b);
  const auto* aftertouch = of(c, Reading::aftertouch);
  ASSERT_NE(aftertouch, nullptr);
  EXPECT_FALSE(aftertouch->by_itself[0].beyond_noise);
  ASSERT_FALSE(aftertouch->changed.empty());
  EXPECT_NEAR(aftertouch->changed[0].mean, 0.1 * screw_prior(Adjuster::capstan).per_unit, 0.05);
}

}  // namespace
}  // namespace batten
