#include "server/answers.hpp"

namespace batten::server {

Response get_plan(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_time(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_why(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
