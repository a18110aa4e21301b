#include "json/fit_json.hpp"

#include "json/values.hpp"

#include <cmath>

namespace batten {

namespace {

using fit::What;

const char* code_of(What what) {
  constexpr const char* codes[fit::what_count] = {
      "blow",      "let-off", "drop",      "dip",   "aftertouch",   "down-weight",
      "up-weight", "rise",    "dimension", "ratio", "fall-of-ratio"};
  return codes[static_cast<std::size_t>(what)];
}

const char* told_code(Told told) {
  return told == Told::told ? "told" : told == Told::partly ? "partly" : "not-told";
}

Json reading_json(const FittedReading& r) {
  return {{"note", note_name(r.reading.note)},
          {"reading", code_of(r.reading.what)},
          {"depth_si", number(r.reading.depth)},
          {"value_si", number(r.reading.value)},
          {"uncertainty_si", number(r.reading.sd)},
          {"fitted_si", number(r.fitted)},
          {"misfit", number(r.misfit)},
          {"checked", r.checked},
          {"doubtful", r.doubtful},
          {"or_else", r.or_else}};
}

}  // namespace

std::string to_json(const Piano& piano, const PianoFit& fitted) {
  const Fit& fit = fitted.fit;
  Json j{{"piano", piano.name},         {"from_profile", fitted.base},
         {"ending", fit.ending},        {"settled", fit.converged},
         {"steps", fit.iterations},     {"sum_of_squares", number(fit.sum_of_squares)},
         {"not_used", fitted.put_aside}};
  Json& parameters = j["parameters"] = Json::array();
  for (const FittedParameter& p : fit.parameters)
    parameters.push_back(
        {{"code", p.parameter.code},
         {"name", p.parameter.name},
         {"unit", p.parameter.unit},
         {"change", number(p.change / p.parameter.unit_si)},
         {"uncertainty", number(p.sd / p.parameter.unit_si)},
         {"uncertainty_before", number(p.parameter.prior_sd / p.parameter.unit_si)},
         {"told", told_code(p.told)}});
  Json& figures = j["figures"] = Json::array();
  for (const FittedFigure& f : fit.figures)
    figures.push_back({{"note", note_name(f.note)},
                       {"figure", code_of(f.what)},
                       {"value", number(f.value)},
                       {"uncertainty", number(f.sd)},
                       {"uncertainty_before", number(f.prior_sd)},
                       {"told", told_code(f.told)}});
  Json& together = j["told_together"] = Json::array();
  for (const Direction& d : fit.told_together) {
    Json parts = Json::array();
    for (const auto& [place, weight] : d.parts)
      parts.push_back({{"code", fit.parameters[place].parameter.code}, {"weight", weight}});
    together.push_back({{"uncertainty", number(d.sd)}, {"parts", parts}, {"words", words(fit, d)}});
  }
  Json& readings = j["readings"] = Json::array();
  for (const FittedReading& r : fit.readings) readings.push_back(reading_json(r));
  return dumped(j);
}

}  // namespace batten
