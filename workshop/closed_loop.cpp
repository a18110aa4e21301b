#include "workshop/closed_loop.hpp"

#include <vector>

namespace batten::workshop {

Outcome run(HiddenPiano& piano, Technician& technician, std::uint64_t seed, const HandsLaw& law) {
  Outcome out;
  std::vector<NoteTargets> sheet;
  for (int i = 0; i < piano.compass().count(); ++i)
    sheet.push_back(makers_sheet(piano, piano.compass().at(i)));
  out.before = judge(piano, sheet);
  Hands hands(piano, seed, law);
  technician.work(hands);
  out.tally = hands.tally();
  out.after = judge(piano, technician.targets());
  return out;
}

}  // namespace batten::workshop
