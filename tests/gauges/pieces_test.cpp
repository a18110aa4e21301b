// Outlines: what a gauge measures is in its outline, corners run one way round, nothing crosses.
#include "core/regulation/gauges/pieces.hpp"

#include "core/regulation/gauges/sheets.hpp"
#include "core/regulation/gauges/stroke_letters.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <gmock/gmock.h>
#include <map>
#include <set>
#include <string>

namespace batten {
namespace {

const Compass whole{};

std::vector<GaugePiece> pieces_with(const std::map<std::string, std::string>& settings,
                                    GaugeStyle style = {}) {
  const std::vector<Section> sections{{whole.lowest, Key{20}}, {Key{21}, whole.highest}};
  return shape_pieces(calc_gauges(whole, targets_on_record(whole, sections, settings).value(),
                                  working_catalogue(settings).value(),
                                  equipment_on_record(whole, settings).value()),
                      style);
}

const std::map<std::string, std::string> all_kinds{
    {"key-height-target", "64 to 66 mm"}, {"sharps-height-target", "12.3 mm"},
    {"aftertouch-target", "1.2 mm"},      {"dip-target", "10.4 to 9.4 mm"},
    {"let-off-target", "3 to 0.6 mm"},    {"check-distance-target", "5 mm; 16 mm"}};

// Gauss's area formula ("shoelace"): positive counter-clockwise.
double area(const std::vector<Spot>& o) {
  double sum = 0;
  for (std::size_t i = 0; i < o.size(); ++i) {
    const Spot a = o[i], b = o[(i + 1) % o.size()];
    sum += a.x * b.y - b.x * a.y;
  }
  return sum / 2;
}

bool sides(Spot a, Spot b, Spot p, Spot q) {
  const auto turn = [](Spot u, Spot v, Spot w) {
    return (v.x - u.x) * (w.y - u.y) - (v.y - u.y) * (w.x - u.x);
  };
  return turn(a, b, p) * turn(a, b, q) < 0 && turn(p, q, a) * turn(p, q, b) < 0;
}

// Even-odd rule.
bool inside(const std::vector<Spot>& o, double x, double y) {
  bool in = false;
  for (std::size_t i = 0; i < o.size(); ++i) {
    const Spot a = o[i], b = o[(i + 1) % o.size()];
    if ((a.y > y) != (b.y > y) && x < a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)) in = !in;
  }
  return in;
}

// An edge of the outline at that height, or at rest level of a stand's foot.
bool has_level(const std::vector<Spot>& o, double y) {
  return std::ranges::any_of(o, [&](Spot s) { return std::abs(s.y - y) < 1e-12; });
}

TEST(GaugePieces, EveryKindIsThere) {
  std::set<GaugeKind> kinds;
  for (const auto& p : pieces_with(all_kinds)) kinds.insert(p.kind);
  EXPECT_EQ(kinds.size(), gauge_kinds().size());
}

TEST(GaugePieces, OutlinesAreSoundAndMeasureTheirSizes) {
  for (const auto& piece : pieces_with(all_kinds)) {
    SCOPED_TRACE(piece.title);
    EXPECT_GT(area(piece.outline), 0);
    const auto& o = piece.outline;
    for (std::size_t i = 0; i < o.size(); ++i)
      for (std::size_t j = i + 2; j < o.size(); ++j)
        EXPECT_FALSE(sides(o[i], o[i + 1], o[j], o[(j + 1) % o.size()])) << i << " " << j;
    double low_x = 1e9, low_y = 1e9, high_x = 0, high_y = 0;
    for (const Spot s : o) {
      low_x = std::min(low_x, s.x);
      low_y = std::min(low_y, s.y);
      high_x = std::max(high_x, s.x);
      high_y = std::max(high_y, s.y);
    }
    EXPECT_EQ(low_x, 0);
    EXPECT_EQ(low_y, 0);
    EXPECT_EQ(high_x, piece.width);
    EXPECT_EQ(high_y, piece.height);
    if (piece.stock) {
      EXPECT_EQ(*piece.stock, piece.sizes.at(0));
      EXPECT_TRUE(piece.measures.empty());
      continue;
    }
    ASSERT_EQ(piece.measures.size(), piece.sizes.size());
    for (std::size_t i = 0; i < piece.sizes.size(); ++i) {
      const Measure& m = piece.measures[i];
      EXPECT_EQ(m.mm, piece.sizes[i]);
      EXPECT_NEAR(std::hypot(m.to.x - m.from.x, m.to.y - m.from.y), m.mm, 1e-12);
      EXPECT_TRUE(has_level(o, m.from.y) && has_level(o, m.to.y));
    }
  }
}

// Words and holes lie on the piece, a millimetre from its edge at least; at every size that can be
// aimed at (catalogue).
TEST(GaugePieces, WordsAndHolesStayOnThePiece) {
  for (const GaugeStyle style :
       {GaugeStyle{Language::english, false}, {Language::german, false}, {Language::german, true}})
    for (const auto* key_height : {"20 mm", "64 to 66 mm", "120 mm"})
      for (const auto* sharps : {"4.5 mm", "12.3 mm", "25 mm"}) {
        auto settings = all_kinds;
        settings["key-height-target"] = key_height;
        settings["sharps-height-target"] = sharps;
        settings["sharp-dip-target"] = "4 mm";
        for (const auto& piece : pieces_with(settings, style)) {
          SCOPED_TRACE(piece.title);
          EXPECT_FALSE(piece.engravings.empty());
          for (const Engraving& e : piece.engravings) {
            EXPECT_GT(e.height, 0.8) << e.text;
            const double right = e.at.x + letters::width(e.text, e.height);
            for (const double x : {e.at.x - 0.9, right + 0.9})
              for (const double y : {e.at.y - 0.1, e.at.y + e.height + 0.1})
                EXPECT_TRUE(inside(piece.outline, x, y)) << e.text << " " << x << " " << y;
            for (const Round& h : piece.holes) {
              const double x = std::clamp(h.centre.x, e.at.x, right);
              const double y = std::clamp(h.centre.y, e.at.y, e.at.y + e.height);
              EXPECT_GT(std::hypot(x - h.centre.x, y - h.centre.y), h.radius) << e.text;
            }
          }
          for (const Round& h : piece.holes)
            for (const double turn : {0.0, 0.8, 1.6, 2.4, 3.2, 4.0, 4.8, 5.6})
              EXPECT_TRUE(inside(piece.outline, h.centre.x + (h.radius + 1) * std::cos(turn),
                                 h.centre.y + (h.radius + 1) * std::sin(turn)));
        }
      }
}

// What the issue asks for: a single gauge for each size, and a block that joins them.
TEST(GaugePieces, BlockJoinsTheSizesOfAKind) {
  const auto pieces = pieces_with({{"blow-target", "46 mm; 45 mm"}});
  std::vector<double> single, block;
  for (const auto& p : pieces)
    if (p.kind == GaugeKind::blow)
      (p.block ? block : single)
          .insert((p.block ? block : single).end(), p.sizes.begin(), p.sizes.end());
  EXPECT_THAT(single, ::testing::UnorderedElementsAre(46, 45));
  EXPECT_THAT(block, ::testing::ElementsAre(45, 46));
}

// Worked by hand: of the naturals A0, B0, C1, D1, E1 three in a row are a run whatever sharps lie
// between.
TEST(GaugeNotes, RunsGoOverWhatIsAsked) {
  const std::vector<Key> naturals{Key{1}, Key{3}, Key{4}, Key{6}, Key{8}, Key{9}, Key{11}};
  EXPECT_EQ(notes_text({Key{1}, Key{3}, Key{4}}, naturals), "A0–C1");
  EXPECT_EQ(notes_text({Key{1}, Key{3}, Key{6}}, naturals), "A0, B0, D1");
  EXPECT_EQ(notes_text({Key{1}, Key{4}, Key{8}, Key{11}}, naturals), "A0…G1");
  EXPECT_EQ(notes_text({Key{5}}, {Key{5}}), "C♯1");
}

TEST(GaugeSheets, PiecesLieApartInsideTheSheet) {
  const auto pieces = pieces_with(all_kinds);
  constexpr double width = 160, height = 180, gap = 5;
  const auto sheets = lay_out(pieces, width, height, gap);
  std::set<std::size_t> placed;
  for (const GaugeSheet& sheet : sheets) {
    EXPECT_LE(sheet.width, width);
    EXPECT_LE(sheet.height, height);
    for (const PlacedPiece& p : sheet.pieces) {
      EXPECT_TRUE(placed.insert(p.piece).second);
      const GaugePiece& a = pieces[p.piece];
      EXPECT_GE(p.at.x, 0);
      EXPECT_GE(p.at.y, -1e-9);
      EXPECT_LE(p.at.x + a.width, sheet.width + 1e-9);
      EXPECT_LE(p.at.y + a.height, sheet.height + 1e-9);
      for (const PlacedPiece& q : sheet.pieces) {
        if (&q == &p) continue;
        const GaugePiece& b = pieces[q.piece];
        const double beside = std::max(p.at.x - q.at.x - b.width, q.at.x - p.at.x - a.width);
        const double above = std::max(p.at.y - q.at.y - b.height, q.at.y - p.at.y - a.height);
        EXPECT_GE(std::max(beside, above), gap - 1e-9);
      }
    }
  }
  EXPECT_EQ(placed.size(), pieces.size());
}

// Every letter that can be engraved has strokes of its own: no two look alike, and none is the
// square of an unknown one.
TEST(StrokeLetters, AllThatIsEngravedIsKnown) {
  std::set<std::string> seen;
  const auto unknown = letters::strokes("€", 6);
  for (const Language language : {Language::english, Language::german})
    for (const auto& piece : pieces_with(all_kinds, {language, language == Language::german}))
      for (const Engraving& e : piece.engravings)
        for (std::size_t i = 0; i < e.text.size();) {
          std::size_t end = i + 1;
          while (end < e.text.size() && (static_cast<unsigned char>(e.text[end]) & 0xC0) == 0x80)
            ++end;
          seen.insert(e.text.substr(i, end - i));
          i = end;
        }
  EXPECT_GT(seen.size(), 25U);
  for (const std::string& letter : seen) {
    const auto strokes = letters::strokes(letter, 6);
    const bool blank = letter == " " || letter == "\u202f";
    EXPECT_EQ(strokes.empty(), blank) << letter;
    if (blank) continue;
    const bool square = strokes.size() == 1 && strokes[0].size() == unknown[0].size() &&
                        strokes[0][1].x == unknown[0][1].x && strokes[0][1].y == unknown[0][1].y;
    EXPECT_FALSE(square) << letter;
  }
  EXPECT_NEAR(letters::width("HH", 6), 4 + 1.6 + 4, 1e-12);
}

}  // namespace
}  // namespace batten
