// Writes the gauges of one piano as PDF, SVG and DXF into a folder, and to standard output what is
// to be in them, as JSON: Python reads the files with libraries of its own (python_gauges.py).
//
//   gauges_echo FOLDER a4|letter en|de 88|97 NAME=VALUE…     settings of the piano
#include "core/regulation/gauges/pieces.hpp"
#include "drawings/gauge_sheet.hpp"
#include "exchange/dxf.hpp"
#include "reports/template_sheet.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <fstream>
#include <iostream>
#include <map>
#include <string>

namespace {

using namespace batten;

void write(const std::string& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary) << bytes;
}

std::string list_of(const std::vector<Spot>& spots) {
  std::string out;
  for (const Spot& s : spots)
    out += fmt::format("{}[{:.9g},{:.9g}]", out.empty() ? "" : ",", s.x, s.y);
  return "[" + out + "]";
}

std::string described(const GaugePiece& p) {
  std::string holes, measures, words;
  for (const Round& h : p.holes)
    holes += fmt::format("{}[{:.9g},{:.9g},{:.9g}]", holes.empty() ? "" : ",", h.centre.x,
                         h.centre.y, h.radius);
  for (const Measure& m : p.measures)
    measures += fmt::format("{}{:.9g}", measures.empty() ? "" : ",", m.mm);
  for (const Engraving& e : p.engravings)
    words += fmt::format("{}\"{}\"", words.empty() ? "" : ",", e.text);
  return fmt::format(
      R"({{"kind":"{}","block":{},"outline":{},"holes":[{}],"measures":[{}],"words":[{}],"width":{:.9g},"height":{:.9g},"title":"{}"}})",
      kind_of(p.kind).code, p.block, list_of(p.outline), holes, measures, words, p.width, p.height,
      p.title);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 5) return 2;
  const std::string folder = argv[1];
  const bool letter = std::string(argv[2]) == "letter";
  const Language language = language_of(argv[3]).value_or(Language::english);
  const Compass compass = std::string(argv[4]) == "97" ? Compass{Key{-8}, Key{88}} : Compass{};
  std::map<std::string, std::string> settings;
  bool inches = false;
  for (int i = 5; i < argc; ++i) {
    const std::string word = argv[i];
    if (word == "inches") inches = true;
    const auto equals = word.find('=');
    if (equals != std::string::npos) settings[word.substr(0, equals)] = word.substr(equals + 1);
  }
  const std::vector<Section> sections{{compass.lowest, Key{20}, BreakKind::bridge},
                                      {Key{21}, Key{50}, BreakKind::strut},
                                      {Key{51}, compass.highest}};
  const auto targets = targets_on_record(compass, sections, settings);
  const auto catalogue = working_catalogue(settings);
  const auto equipment = equipment_on_record(compass, settings);
  if (!targets || !catalogue || !equipment) return 1;
  const GaugeSet set = calc_gauges(compass, *targets, *catalogue, *equipment);
  const GaugeStyle style{language, inches};
  const auto pieces = shape_pieces(set, style);
  const SheetHeading heading{"Konzertflügel im Großen Saal der Landesmusikakademie, 2,74 m",
                             "Große Musikhochschule, Konzertsaal im zweiten Obergeschoss", "",
                             date_in(language, 2026, 11, 26), "Ada"};
  write(folder + "/gauges.pdf",
        template_pdf(set, heading,
                     {letter ? Paper::letter : Paper::a4, style, "2026-11-26T08:00:00Z"}));
  write(folder + "/gauges.svg", gauges_svg(pieces, style));
  write(folder + "/gauges.dxf", write_gauges_dxf(pieces));
  std::string all;
  for (const GaugePiece& p : pieces) all += (all.empty() ? "" : ",\n") + described(p);
  std::cout << "[" << all << "]\n";
  return 0;
}
