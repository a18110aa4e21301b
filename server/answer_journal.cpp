#include "json/piano_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"

#include <charconv>
#include <cstdint>

namespace batten::server {

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
Response post_entries(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
