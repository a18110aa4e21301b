#include "exchange/bundle.hpp"
#include "exchange/bundle_head.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <array>
#include <memory>
#include <openssl/evp.h>
#include <optional>
#include <stdexcept>

namespace batten {

namespace {

using Json = nlohmann::ordered_json;

Json key_number(const std::optional<Key>& key) { return key ? Json(key->number) : Json(nullptr); }

struct Content {
  Json& j;
  void operator()(const ReadingTaken& r) const {
    j["kind"] = "reading";
    j["reading"] = kind_of(r.reading).code;
    j["key"] = key_number(r.note);
    j["value"] = r.value;
    j["uncertainty"] = r.uncertainty;
    j["gauge"] = r.gauge;
    j["typed"] = r.typed;
  }
  void operator()(const MoveMade& m) const {
    j["kind"] = "move";
    j["adjuster"] = kind_of(m.adjuster).code;
    j["key"] = key_number(m.note);
    j["amount"] = m.amount;
    j["remark"] = m.remark;
  }
  void operator()(const MoveSkipped& s) const {
    j["kind"] = "skip";
    j["adjuster"] = kind_of(s.adjuster).code;
    j["key"] = key_number(s.note);
    j["reason"] = s.reason;
  }
  void operator()(const PreparationNoted& p) const {
    j["kind"] = "preparation";
    j["item"] = kind_of(p.item).code;
    j["key"] = key_number(p.note);
    j["state"] = state_code(p.state);
    j["reason"] = p.reason;
  }
  void operator()(const SettingChosen& s) const {
    j["kind"] = "setting";
    j["name"] = s.name;
    j["value"] = s.value;
  }
  void operator()(const Remark& r) const {
    j["kind"] = "remark";
    j["key"] = key_number(r.note);
    j["text"] = r.text;
  }
  void operator()(const Undo& u) const {
    j["kind"] = "undo";
    j["entry"] = to_text(u.entry);
  }
};

Json entry_json(const StampedEntry& e) {
  Json j{{"id", to_text(e.entry.id)},
         {"visit", to_text(e.entry.visit)},
         {"stamp", e.stamp},
         {"at_ms", e.entry.at_ms},
         {"who", e.entry.who}};
  std::visit(Content{j}, e.entry.content);
  return j;
}

Json visit_json(const Visit& v) {
  return {{"id", to_text(v.id)}, {"begun_ms", v.begun_ms}, {"title", v.title}};
}

template <class List, class ToJson>
void add_list(std::string& text, const char* name, const List& list, ToJson to_json) {
  text += fmt::format(",\n\"{}\":[", name);
  bool first = true;
  for (const auto& one : list) {
    text += first ? "\n" : ",\n";
    text += to_json(one).dump();
    first = false;
  }
  text += "]";
}

}  // namespace

std::string sha256_without_digits(std::string_view text, std::size_t place) {
  static const std::string zeros(sha256_digits, '0');
  const std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context(EVP_MD_CTX_new(),
                                                                        &EVP_MD_CTX_free);
  std::array<unsigned char, 32> digest{};
  unsigned size = 0;
  const auto add = [&](std::string_view part) {
    return EVP_DigestUpdate(context.get(), part.data(), part.size()) == 1;
  };
  const bool done = context && EVP_DigestInit_ex(context.get(), EVP_sha256(), nullptr) == 1 &&
                    add(text.substr(0, place)) && add(zeros) &&
                    add(text.substr(place + sha256_digits)) &&
                    EVP_DigestFinal_ex(context.get(), digest.data(), &size) == 1;
  if (!done) throw std::runtime_error("SHA-256 is not to be had");
  std::string hex;
  for (const unsigned char byte : digest) hex += fmt::format("{:02x}", byte);
  return hex;
}

std::string write_bundle(const WholeJournal& journal) {
  const Piano& p = journal.piano;
  std::string text = fmt::format("{{\"format\":\"{}\",\"version\":{},{}{}\"", bundle_format,
                                 bundle_version, sha256_mark, std::string(sha256_digits, '0'));
  text += ",\n\"piano\":" + Json{{"id", to_text(p.id)},
                                 {"name", p.name},
                                 {"place", p.place},
                                 {"lowest_key", p.lowest_key},
                                 {"highest_key", p.highest_key},
                                 {"added_ms", p.added_ms}}
                                .dump();
  add_list(text, "visits", journal.visits, visit_json);
  add_list(text, "entries", journal.entries, entry_json);
  text += "}\n";
  const std::size_t place = *sha256_place(text);
  text.replace(place, sha256_digits, sha256_without_digits(text, place));
  return text;
}

}  // namespace batten
