#include "core/regulation/studio/next_visit.hpp"

#include "core/regulation/aims/aim.hpp"

#include <algorithm>

namespace batten {

namespace {

int notes_asked(Reading reading, Compass compass, const Equipment& equipment) {
  int notes = 0;
  for (int i = 0; i < compass.count(); ++i) notes += equipment.asks(reading, compass.at(i)) ? 1 : 0;
  return notes;
}

// Expected shares of the known notes outside, today and at the return.
struct Outside {
  int known = 0;
  double now = 0, at_return = 0;
};

Outside outside_of(const Outlook& outlook, Reading reading) {
  Outside sum;
  for (const OutlookNote& n : outlook.notes) {
    if (n.reading != reading) continue;
    ++sum.known;
    sum.now += n.outside_now;
    sum.at_return += n.outside_at_due;
  }
  return sum;
}

}  // namespace

NextVisit calc_next_visit(const Outlook& outlook, Compass compass, const Equipment& equipment,
                          const WorkingCatalogue& catalogue, const Paces& paces,
                          const NextVisitOptions& options) {
  NextVisit visit;
  visit.minutes_now = visit.minutes_at_return = options.minutes_about;
  for (const OutlookReading& r : outlook.readings) {
    const Outside outside = outside_of(outlook, r.reading);
    const int asked = notes_asked(r.reading, compass, equipment);
    if (outside.known == 0 || asked == 0) continue;
    const double read = paces.reading(r.reading).minutes;
    const double look = std::min(asked, options.samples) * read;
    const auto work = [&](double share) {
      const auto aim = aim_of(r.reading);
      if (!aim || *aim == Aim::aftertouch) return look;
      const double notes = share * asked;
      if (notes < options.worth_a_pass) return look;
      const Adjuster adjuster = adjuster_for(*aim);
      return look + catalogue.labour(adjuster).minutes_set_up +
             notes * (paces.move(adjuster).minutes + read);
    };
    const double share = outside.now / outside.known;
    visit.minutes_now += work(share);
    visit.minutes_at_return += work(outside.at_return / outside.known);
    visit.worth += share * asked;
    if (share > visit.worst_share) {
      visit.worst_share = share;
      visit.worst = r.reading;
    }
  }
  return visit;
}

}  // namespace batten
