// From the journal to a profile that can be kept.
#include "app/entries.hpp"
#include "app/fit_job.hpp"
#include "app/readings.hpp"
#include "tests/app/desk_fixture.hpp"
#include "tests/fitting/invented_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <gmock/gmock.h>

namespace batten {
namespace {

using fit::What;
using testing::HasSubstr;

class FitJournal : public DeskTest {
 protected:
  void take(const char* reading, const char* note, double value) {
    const auto kept = take_reading(desk_, piano_, {reading, note, std::to_string(value), "", ""});
    ASSERT_TRUE(kept) << kept.error().sentence();
  }
  std::vector<fit::Reading> gathered(const std::vector<fit::Reading>& rises = {}) {
    put_aside_.clear();
    return readings_to_fit(*standing(desk_, piano_), rises, put_aside_);
  }
  std::vector<std::string> put_aside_;
};

TEST_F(FitJournal, TakesWhatTellsAndPutsTheRestAside) {
  take("blow", "C4", 45.5);
  EXPECT_TRUE(gathered().empty());
  ASSERT_EQ(put_aside_.size(), 1U);
  EXPECT_THAT(put_aside_[0], HasSubstr("tell only of the screws"));
  take("aftertouch", "C4", 1.0);
  take("aftertouch", "C4", 1.2);
  take("hammer-centre-friction", "C4", 4);
  take("string-height", "C4", 195);
  const auto list = gathered();
  EXPECT_TRUE(put_aside_.empty());
  ASSERT_EQ(list.size(), 3U);  // string heights are no matter of the action
  for (const fit::Reading& r : list) {
    if (r.what == What::blow) {
      EXPECT_DOUBLE_EQ(r.value, 0.0455);
    }
    if (r.what == What::aftertouch) {  // the mean of two readings of 0.1 mm: GUM 4.2.3
      EXPECT_DOUBLE_EQ(r.value, 0.0011);
      EXPECT_NEAR(r.sd, 0.0001, 5e-5);
    }
    if (r.what == What::dimension) {  // 4 gf at 23 mm
      EXPECT_NEAR(r.value, 4 * 9.80665e-3 * 0.023, 1e-12);
    }
  }
}

TEST_F(FitJournal, ReadingsBeforeATurnDoNotCount) {
  take("blow", "C4", 45.5);
  take("aftertouch", "C4", 1.1);
  ASSERT_TRUE(record_move(desk_, piano_, "capstan", "C4", "raise 1/8"));
  take("aftertouch", "C4", 1.3);
  const auto list = gathered();
  ASSERT_EQ(list.size(), 1U);
  EXPECT_DOUBLE_EQ(list[0].value, 0.0013);
  EXPECT_THAT(put_aside_, testing::ElementsAre(HasSubstr("2 read before")));
}

TEST_F(FitJournal, NothingReadIsSaid) {
  const auto none = fit_piano(desk_, piano_, {});
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().sentence(), HasSubstr("No note of Studio grand"));
  EXPECT_THAT(fit_piano(desk_, piano_, {"no such profile", {}}).error().sentence(),
              HasSubstr("no such profile"));
}

// The whole way, on a small invented piano: what is written is read back and holds the numbers
// found.
TEST_F(FitJournal, AFittedProfileCanBeKept) {
  trial::Plan plan;
  plan.seed = 31;
  plan.keys = {20, 47};
  plan.spread = 0.5;
  const trial::InventedPiano truth = trial::invent(plan);
  const std::filesystem::path pairs = folder_ / "rises.txt";
  std::ofstream file(pairs);
  for (const fit::Reading& r : truth.task.readings) {
    const std::string note = note_name(r.note);
    constexpr double gf = 9.80665e-3;
    switch (r.what) {
      case What::blow:
        take("blow", note.c_str(), r.value * 1e3);
        break;
      case What::let_off:
        take("let-off", note.c_str(), r.value * 1e3);
        break;
      case What::drop:
        take("drop", note.c_str(), r.value * 1e3);
        break;
      case What::dip:
        take("dip", note.c_str(), r.value * 1e3);
        break;
      case What::aftertouch:
        take("aftertouch", note.c_str(), r.value * 1e3);
        break;
      case What::down_weight:
        take("down-weight", note.c_str(), r.value / gf);
        break;
      case What::up_weight:
        take("up-weight", note.c_str(), r.value / gf);
        break;
      case What::rise:
        file << note << " " << r.depth * 1e3 << " " << r.value * 1e3 << " " << r.sd * 1e3 << "\n";
        break;
      default:
        FAIL();
    }
  }
  file.close();
  const auto fitted = fit_piano(desk_, piano_, {"", pairs});
  ASSERT_TRUE(fitted) << fitted.error().sentence();
  EXPECT_EQ(fitted->base, "medium");
  EXPECT_EQ(fitted->fit.readings.size(), truth.task.readings.size());
  const ProfileFile kept = fitted_profile(piano_, *fitted);
  const auto again = parse_profile(print_profile(kept), "again");
  ASSERT_TRUE(again) << again.error().sentence();
  EXPECT_EQ(again->profile.name, "Studio grand");
  for (std::size_t i = 0; i < kept.profile.anchors.size(); ++i) {
    const action::Anchor &a = kept.profile.anchors[i], &b = again->profile.anchors[i];
    EXPECT_NEAR(a.dimensions.capstan_x, b.dimensions.capstan_x, 1e-9);
    EXPECT_NEAR(a.wanted.blow, b.wanted.blow, 1e-9);
  }
  // At a note read, the profile wants what was read there, but for what is explained as error.
  for (const fit::Reading& r : truth.task.readings)
    if (r.what == What::blow) {
      EXPECT_NEAR(action::note_of(kept.profile, r.note).wanted.blow, r.value, 0.3e-3);
    }
}

}  // namespace
}  // namespace batten
