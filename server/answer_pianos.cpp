#include "server/answers.hpp"

namespace batten::server {

Response get_catalogue(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_pianos(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response post_pianos(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response get_piano(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response post_visits(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
