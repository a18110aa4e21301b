// What most answers begin with: the piano in the path, how far its journal has grown, its plan.
#pragma once

#include "app/plan_memory.hpp"
#include "server/answering.hpp"
#include "server/http.hpp"

#include <cstdint>
#include <functional>
#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace batten::server {

struct Asked {
  Piano piano;
  std::int64_t revision = 0;  // entries of its journal
};

// The piano named in the path as {piano}, by its identity. Errors are answered: 404.
// Nothing is thrown: what `answer` throws becomes a 503 with a sentence.
Response at_piano(Answering& with, const Request& request,
                  const std::function<Response(const Asked&)>& answer);

// The same, and the text is kept for this path, query and revision; `make` gives JSON text. Errors
// of `make` are answered with 422 and not kept.
Response at_revision(Answering& with, const Request& request,
                     const std::function<Result<std::string>(const Asked&)>& make);

// Runs `answer`; what it throws becomes a 503 with a sentence.
Response without_throwing(const std::function<Response()>& answer);

// The plan of the journal as it stands, made once for all who ask. Errors: as plan_work.
Result<std::shared_ptr<const PianoPlan>> plan_for(Answering& with, const Piano& piano,
                                                  std::optional<double> minutes = {});

// Refuses what is asked for behind '?' and not known here.
Result<void> only_asks(const Request& request, std::initializer_list<std::string_view> known);
// ?minutes= as parse_minutes reads it; nothing where it is not there.
Result<std::optional<double>> asked_minutes(const Request& request);
// A note by name or key number, on this piano's keyboard.
Result<Key> key_at(const Piano& piano, std::string_view note);

}  // namespace batten::server
