#include "json/journal_json.hpp"
#include "json/piano_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"
#include "server/entry_body.hpp"

#include <charconv>
#include <cstdint>

namespace batten::server {

namespace {

int status_of(NotWritten::Why why) {
  switch (why) {
    case NotWritten::Why::refused:
      return 422;
    case NotWritten::Why::conflict:
      return 409;
    case NotWritten::Why::world:
      return 503;
  }
  return 500;
}

}  // namespace

Response get_journal(Answering& with, const Request& request) {
  if (auto ok = only_asks(request, {"since"}); !ok) return refused(ok.error());
  std::int64_t since = 0;
  if (const std::string& text = request.asked("since"); !text.empty()) {
    const auto read = std::from_chars(text.data(), text.data() + text.size(), since);
    if (read.ec != std::errc{} || read.ptr != text.data() + text.size() || since < 0)
      return refused({"\"" + text + "\" is no place in a journal.",
                      {},
                      "Give the revision last heard of: 0, 1, 2 …"});
  }
  return at_piano(with, request, [&](const Asked& asked) {
    auto lines = history(with.desk, asked.piano);
    return lines ? ok(journal_to_json(*lines, since)) : refused(lines.error(), 422);
  });
}

Response post_entries(Answering& with, const Request& request) {
  return at_piano(with, request, [&](const Asked& asked) {
    auto wanted = entries_in(request);
    if (!wanted) return refused(wanted.error());
    // Who works is known at the machine; where it is not, the device's name tells more than
    // nothing.
    const std::string& who = with.desk.who.empty() ? request.device : with.desk.who;
    auto written = write_entries(with.desk, asked.piano, who, *wanted);
    if (!written) {
      const NotWritten& no = written.error();
      Response r = ok(not_written_to_json(no.problem, no.entry));
      r.status = status_of(no.why);
      return r;
    }
    if (written->already_there < written->entries.size())
      with.tell({to_text(asked.piano.id), "entries",
                 heard_to_json(asked.piano, written->entries, written->revision, request.device)});
    return ok(kept_to_json(written->entries, written->already_there, written->revision));
  });
}

}  // namespace batten::server
