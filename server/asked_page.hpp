// ?language=, ?paper=, ?inches= of an address that answers with a page.
#pragma once

#include "app/paper_choices.hpp"
#include "server/http.hpp"

namespace batten::server {

// inches: "1" or "0"; not there: millimetres. Error: as page_choices, or neither.
inline Result<PageAsked> asked_page(const Request& request) {
  PageAsked asked{request.asked("language"), request.asked("paper"), false};
  const std::string& inches = request.asked("inches");
  if (inches == "1") asked.inches = true;
  if (!inches.empty() && inches != "1" && inches != "0")
    return problem("\"" + inches + "\" says nothing about inches.", "Write inches=1 or inches=0.");
  return asked;
}

}  // namespace batten::server
