#include "server/answers.hpp"

namespace batten::server {

Response get_handover(Answering&, const Request&) {
  return refused({"This is not answered yet.", {}, {}}, 501);
}

}  // namespace batten::server
