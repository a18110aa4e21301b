#include "server/answers.hpp"

namespace batten::server {

Response get_note(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response post_what_if(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response post_strokes(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
