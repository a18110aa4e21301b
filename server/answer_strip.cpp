#include "server/answers.hpp"

namespace batten::server {

Response get_strip(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_read_next(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_line(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
