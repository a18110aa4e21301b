// What RFC 5545 says of its own examples; Debian's icalendar reads the rest (python_calendar.py).
#include "exchange/calendar.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>

namespace batten {
namespace {

using std::chrono::year;
using ::testing::HasSubstr;
using ::testing::Not;

Calendar calendar_of(CalendarEvent event) { return {"", "en", 0, {std::move(event)}}; }

CalendarEvent simple() {
  CalendarEvent event;
  event.uid = "one";
  event.day = year(2028) / 2 / 29;
  return event;
}

// RFC 5545, 3.6.1: DTEND is not part of the event; RFC 5545, 3.3.5: Z for UTC. The Unix epoch.
TEST(Calendar, WholeDayEndsTheDayAfter) {
  const auto text = write_calendar(calendar_of(simple()));
  EXPECT_THAT(text, HasSubstr("DTSTART;VALUE=DATE:20280229\r\n"));
  EXPECT_THAT(text, HasSubstr("DTEND;VALUE=DATE:20280301\r\n"));
  EXPECT_THAT(text, HasSubstr("DTSTAMP:19700101T000000Z\r\n"));
}

// RFC 5545, 3.3.11: its own example of a text with a line break, a comma and a semicolon.
TEST(Calendar, EscapesAsTheStandardsExample) {
  auto event = simple();
  event.description = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.";
  event.place = "a, b; c\\d";
  const auto text = write_calendar({"", "", 0, {event}});
  EXPECT_THAT(text, HasSubstr("\r\nDESCRIPTION:Project XYZ Final Review\\nConference Room - "
                              "3B\\nCome Prepared.\r\n"));
  EXPECT_THAT(text, HasSubstr("LOCATION:a\\, b\\; c\\\\d\r\n"));
}

// RFC 5545, 3.1: CONTROL is no part of a line; RFC 3629: what is not UTF-8 is not a character.
TEST(Calendar, ControlsAndBrokenBytesDoNoHarm) {
  auto event = simple();
  event.summary = "a\x01\x7f\r\xC2\x85z\xFF\xC0\xAF\xED\xA0\x80";
  const auto text = write_calendar(calendar_of(event));
  EXPECT_THAT(text, HasSubstr("SUMMARY;LANGUAGE=en:az"
                              "\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\r\n"));
}

TEST(Calendar, NothingIsWrittenForWhatIsEmpty) {
  const auto text = write_calendar(calendar_of(simple()));
  for (const auto* name : {"SUMMARY", "DESCRIPTION", "LOCATION", "NAME", "VALARM"})
    EXPECT_THAT(text, Not(HasSubstr(name)));
}

TEST(Calendar, VisitOfAPianoKeepsItsUid) {
  const auto id = parse_uuid("f81d4fae-7dec-11d0-a765-00a0c91e6bf6");
  EXPECT_EQ(next_visit_uid(*id), "next-visit-f81d4fae-7dec-11d0-a765-00a0c91e6bf6");
}

}  // namespace
}  // namespace batten
