#include "app/drift_job.hpp"
#include "json/drift_json.hpp"
#include "server/answers.hpp"
#include "server/asked.hpp"

namespace batten::server {

// Neither is kept: both depend on today, and on the workshop's settings.
Response get_drift(Answering& with, const Request& request) {
  return at_piano(with, request, [&](const Asked& asked) -> Response {
    if (auto known = only_asks(request, {"limit", "months"}); !known) return refused(known.error());
    DriftRequest wanted;
    if (const std::string& limit = request.asked("limit"); !limit.empty()) {
      auto share = parse_share(limit);
      if (!share) return refused(share.error());
      wanted.limit = *share;
    }
    if (const std::string& months = request.asked("months"); !months.empty()) {
      auto count = parse_months(months);
      if (!count) return refused(count.error());
      wanted.months = *count;
    }
    auto outlook = look_ahead(with.desk, asked.piano, wanted);
    if (!outlook) return refused(outlook.error(), 422);
    return ok(to_json(asked.piano, *outlook, asked.revision));
  });
}

Response get_first_checks(Answering& with, const Request& request) {
  return at_piano(with, request, [&](const Asked& asked) -> Response {
    if (auto known = only_asks(request, {"after"}); !known) return refused(known.error());
    auto checks = first_checks(with.desk, asked.piano, request.asked("after"));
    if (!checks) return refused(checks.error());
    return ok(to_json(*checks, asked.revision));
  });
}

}  // namespace batten::server
