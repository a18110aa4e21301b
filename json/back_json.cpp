#include "json/back_json.hpp"

#include "json/values.hpp"

namespace batten {

std::string to_json(const TypedBack& back, PageStyle style) {
  Json lines = Json::array();
  for (const BackLine& l : back.lines)
    lines.push_back(
        {{"line", l.line}, {"note", note_name(l.key)}, {"words", back_words(l, style)}});
  return dumped(Json{{"revision", back.revision},
                     {"written", back.written},
                     {"already_there", back.already_there},
                     {"lines", std::move(lines)}});
}

std::string to_json(const NotTypedBack& refused) {
  Json lines = Json::array();
  for (const BackRefusal& r : refused.lines)
    lines.push_back({{"line", r.line},
                     {"text", r.text},
                     {"happened", r.problem.happened},
                     {"todo", r.problem.todo}});
  return dumped(Json{{"problem",
                      {{"happened", refused.problem.happened},
                       {"kept", refused.problem.kept},
                       {"todo", refused.problem.todo}}},
                     {"lines", std::move(lines)}});
}

}  // namespace batten
