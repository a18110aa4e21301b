// Every JSON body the server takes. The first byte chooses which; the rest is the body. What is
// read is also checked against a piano, as far as that needs no store.
#include "app/entry_checks.hpp"
#include "app/readings.hpp"
#include "server/bodies.hpp"
#include "server/entry_body.hpp"
#include "tests/fuzz/require.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

namespace {

using namespace batten;
using namespace batten::server;

// A refusal says what happened.
template <class T>
bool sound(const Result<T>& result) {
  return result.has_value() || !result.error().happened.empty();
}

struct Check {
  const Piano& piano;
  void operator()(const ReadingRequest& r) const {
    const auto taken = check_reading(piano, r);
    BATTEN_REQUIRE(sound(taken));
    if (taken) BATTEN_REQUIRE(std::isfinite(taken->value) && taken->uncertainty > 0);
  }
  void operator()(const WantedMove& m) const {
    const auto move = std::visit(
        [&](const auto& amount) { return check_move(piano, m.adjuster, m.note, amount, m.remark); },
        m.amount);
    BATTEN_REQUIRE(sound(move));
    if (move) BATTEN_REQUIRE(std::isfinite(move->amount) && move->amount != 0);
  }
  void operator()(const WantedSkip& s) const {
    BATTEN_REQUIRE(sound(check_skip(piano, s.adjuster, s.note, s.reason)));
  }
  void operator()(const WantedPreparation& p) const {
    BATTEN_REQUIRE(sound(check_preparation(piano, p.item, p.state, p.note, p.reason)));
  }
  void operator()(const WantedSetting& s) const {
    // A profile may be a file: none is opened here.
    if (s.name == "action-profile") return;
    const std::map<std::string, std::string> on_record{
        {"sections", "E2 bridge, A#4 strut, D6 strut"}};
    BATTEN_REQUIRE(sound(check_choice(piano, on_record, s.name, s.value)));
  }
  void operator()(const WantedRemark& r) const {
    BATTEN_REQUIRE(sound(check_remark(piano, r.note, r.text)));
  }
  void operator()(const WantedUndo&) const {}
};

void entries(const Request& request) {
  const auto wanted = entries_in(request);
  BATTEN_REQUIRE(sound(wanted));
  if (!wanted) return;
  BATTEN_REQUIRE(!wanted->empty());
  Piano piano;
  piano.name = "p";
  for (const WantedEntry& e : *wanted) std::visit(Check{piano}, e.what);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  Request request;
  request.body.assign(reinterpret_cast<const char*>(data) + 1, size - 1);  // bytes to characters
  switch (data[0] % 8) {
    case 0:
      entries(request);
      break;
    case 1:
      BATTEN_REQUIRE(sound(piano_in(request)));
      break;
    case 2:
      BATTEN_REQUIRE(sound(visit_in(request)));
      break;
    case 3: {
      const auto asked = what_if_in(request);
      BATTEN_REQUIRE(sound(asked));
      if (asked) BATTEN_REQUIRE(asked->depth >= 0 && asked->depth <= 0.02);
      break;
    }
    case 4:
      BATTEN_REQUIRE(sound(strokes_in(request)));
      break;
    case 5:
      BATTEN_REQUIRE(sound(acceptance_in(request)));
      break;
    case 6:
      BATTEN_REQUIRE(sound(complaint_in(request)));
      break;
    default:
      pairing_in(request.body);
  }
  return 0;
}
