#include "server/answers.hpp"

namespace batten::server {

Response get_brief(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_brief_map(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response post_brief(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
