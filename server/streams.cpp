#include "server/streams.hpp"

#include <algorithm>
#include <string_view>

namespace batten::server {

void Streams::add(const std::shared_ptr<EventStream>& stream) { all_.push_back(stream); }

void Streams::remove(const EventStream* stream) {
  std::erase_if(all_, [&](const auto& one) { return one.get() == stream; });
}

// A stream that is closed leaves the list, so each walk is over a copy.
void Streams::tell(const Event& event) {
  const auto text = std::make_shared<const std::string>(print_event(event));
  const auto all = all_;
  for (const auto& stream : all)
    if (event.piano.empty() || stream->piano.empty() || stream->piano == event.piano)
      stream->push(text);
}

void Streams::beat() {
  const auto text = std::make_shared<const std::string>(":\n\n");
  const auto all = all_;
  for (const auto& stream : all) stream->push(text);
}

void Streams::end_if(const std::function<bool(const std::string& device)>& unwanted) {
  const auto all = all_;
  for (const auto& stream : all)
    if (unwanted(stream->device)) stream->end_stream();
}

std::string print_event(const Event& event) {
  std::string text = "event: " + event.name + "\n";
  std::string_view rest = event.data;
  do {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    text += "data: ";
    text += rest.substr(0, end);
    text += '\n';
    rest.remove_prefix(std::min(end + 1, rest.size()));
  } while (!rest.empty());
  return text + '\n';
}

}  // namespace batten::server
