#include "server/answers.hpp"

namespace batten::server {

Response get_journal(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}
Response post_entries(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
