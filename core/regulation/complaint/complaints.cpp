#include "core/regulation/catalogue/code.hpp"
#include "core/regulation/complaint/complaint.hpp"

#include <cassert>

namespace batten {
namespace {

using enum Complaint;

constexpr std::array kinds{
    ComplaintKind{does_not_repeat, "does-not-repeat",
                  "When I play it again quickly it does not come, or comes only if I let the key "
                  "right up."},
    ComplaintKind{double_strikes, "double-strikes", "I play it once and hear it twice."},
    ComplaintKind{hits_a_wall, "hits-a-wall",
                  "It feels like hitting a brick: the key stops before it has done its work."},
    ComplaintKind{falls_through, "falls-through",
                  "I fall through it: the sound is made and the key still goes on."},
    ComplaintKind{weak, "weak", "It gives less sound than its neighbours for the same effort."},
    ComplaintKind{too_heavy, "too-heavy", "It is heavy to press down."},
    ComplaintKind{too_light, "too-light", "It is too light, there is nothing under the finger."},
    ComplaintKind{
        jams, "jams",
        "The hammer stays up at the string, or the tone is choked off as I hold the key."},
    ComplaintKind{bobbles, "bobbles",
                  "After a firm blow the hammer is not held; I feel it dance on the key."},
    ComplaintKind{slow_to_return, "slow-to-return", "The key comes up slowly."},
    ComplaintKind{silent_when_soft, "silent-when-soft",
                  "When I play very softly it sometimes does not sound at all."},
    ComplaintKind{uneven, "uneven", "It simply feels different from the notes beside it."},
    ComplaintKind{clicks, "clicks", "It clicks or knocks when I play it."},
    ComplaintKind{notchy, "notchy",
                  "There is a hard notch near the bottom when I press it slowly."},
    ComplaintKind{dead_start, "dead-start",
                  "The key moves a little before anything happens; it is spongy at the top."},
    ComplaintKind{fails_when_loud, "fails-when-loud",
                  "In loud playing the blow sometimes slips away and hardly sounds."},
    ComplaintKind{rings_on, "rings-on", "It goes on ringing when I let the key up."},
    ComplaintKind{choked, "choked",
                  "It sounds choked unless I hold the key right down; the damper is late."},
};
static_assert(kinds.size() == complaint_count &&
                  static_cast<std::size_t>(choked) + 1 == complaint_count,
              "one row for every complaint");

}  // namespace

std::span<const ComplaintKind> complaint_kinds() { return kinds; }

const ComplaintKind& kind_of(Complaint complaint) {
  const auto index = static_cast<std::size_t>(complaint);
  assert(index < kinds.size());
  return kinds[index];
}

std::optional<Complaint> complaint_by_code(std::string_view code) {
  for (const ComplaintKind& kind : kinds)
    if (is_code(code, kind.code)) return kind.id;
  return std::nullopt;
}

}  // namespace batten
