#include "reports/archive.hpp"

// The library's older smart pointers are not asked for.
#define POINTERHOLDER_TRANSITION 4
#include <fmt/format.h>

#include <algorithm>
#include <lcms2.h>
#include <memory>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>
#include <qpdf/QPDFWriter.hh>
#include <stdexcept>

namespace batten::paper {
namespace {

constexpr std::string_view producer = "cairo, qpdf";

// ICC.1: bytes 24…35 of the header are the profile's date, 84…99 its checksum; both would differ
// from run to run.
std::string srgb_profile() {
  const std::unique_ptr<void, decltype(&cmsCloseProfile)> profile(cmsCreate_sRGBProfile(),
                                                                  &cmsCloseProfile);
  if (!profile) throw std::runtime_error("The colour profile sRGB could not be made.");
  // 2.1 is what printers' software of any age reads.
  cmsSetProfileVersion(profile.get(), 2.1);
  cmsUInt32Number size = 0;
  if (cmsSaveProfileToMem(profile.get(), nullptr, &size) == 0 || size < 128)
    throw std::runtime_error("The colour profile sRGB could not be written.");
  std::string bytes(size, '\0');
  cmsSaveProfileToMem(profile.get(), bytes.data(), &size);
  // 1 January 2000, each of the six numbers in two bytes, the higher first.
  constexpr char date[12] = {0x07, static_cast<char>(0xd0), 0, 1, 0, 1, 0, 0, 0, 0, 0, 0};
  std::copy(std::begin(date), std::end(date), bytes.begin() + 24);
  std::fill(bytes.begin() + 84, bytes.begin() + 100, '\0');
  return bytes;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      default:
        // Other control characters have no place in XML 1.0.
        if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t') out += c;
    }
  return out;
}

// XMP (ISO 16684-1) with the identification ISO 19005-2 asks for.
std::string xmp(const ArchiveWords& words) {
  const std::string title = escaped(words.title);
  return fmt::format(
      "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
      "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n"
      " <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
      "  <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\"\n"
      "    xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" "
      "xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\"\n"
      "    xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\">\n"
      "   <pdfaid:part>2</pdfaid:part>\n"
      "   <pdfaid:conformance>U</pdfaid:conformance>\n"
      "   <dc:format>application/pdf</dc:format>\n"
      "   <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{0}</rdf:li></rdf:Alt></dc:title>\n"
      "   <dc:language><rdf:Bag><rdf:li>{1}</rdf:li></rdf:Bag></dc:language>\n"
      "   <xmp:CreateDate>{2}</xmp:CreateDate>\n"
      "   <xmp:ModifyDate>{2}</xmp:ModifyDate>\n"
      "   <xmp:CreatorTool>Batten</xmp:CreatorTool>\n"
      "   <pdf:Producer>{3}</pdf:Producer>\n"
      "  </rdf:Description>\n"
      " </rdf:RDF>\n"
      "</x:xmpmeta>\n"
      "<?xpacket end=\"r\"?>\n",
      title, words.language, words.created, producer);
}

// "2026-11-26T08:00:00Z" as ISO 32000-1, 7.9.4 writes it.
std::string pdf_date(const std::string& iso) {
  std::string digits;
  for (const char c : iso)
    if (c >= '0' && c <= '9') digits += c;
  return "D:" + digits.substr(0, 14) + "Z";
}

// ISO 19005-2: an image is not to be smoothed at the reader's whim (6.2.8.1); which glyph belongs
// to which number is said, though it is the default (6.2.11.3.2).
void mend(QPDF& pdf) {
  const auto named = [](QPDFObjectHandle object, const char* name) {
    return object.isName() && object.getName() == name;
  };
  for (QPDFObjectHandle& object : pdf.getAllObjects()) {
    if (object.isStream()) {
      QPDFObjectHandle dict = object.getDict();
      if (named(dict.getKey("/Subtype"), "/Image") && dict.hasKey("/Interpolate"))
        dict.removeKey("/Interpolate");
    } else if (object.isDictionary()) {
      if (named(object.getKey("/Subtype"), "/CIDFontType2") && !object.hasKey("/CIDToGIDMap"))
        object.replaceKey("/CIDToGIDMap", QPDFObjectHandle::newName("/Identity"));
    }
  }
}

}  // namespace

std::string archived(const std::string& bytes, const ArchiveWords& words) {
  QPDF pdf;
  pdf.processMemoryFile("page", bytes.data(), bytes.size());
  mend(pdf);
  static const std::string profile = srgb_profile();
  auto icc = QPDFObjectHandle::newStream(&pdf, profile);
  icc.getDict().replaceKey("/N", QPDFObjectHandle::newInteger(3));
  auto intent = QPDFObjectHandle::newDictionary();
  intent.replaceKey("/Type", QPDFObjectHandle::newName("/OutputIntent"));
  intent.replaceKey("/S", QPDFObjectHandle::newName("/GTS_PDFA1"));
  intent.replaceKey("/OutputConditionIdentifier", QPDFObjectHandle::newString("sRGB IEC61966-2.1"));
  intent.replaceKey("/Info", QPDFObjectHandle::newString("sRGB IEC61966-2.1"));
  intent.replaceKey("/DestOutputProfile", icc);
  auto intents = QPDFObjectHandle::newArray();
  intents.appendItem(pdf.makeIndirectObject(intent));

  auto metadata = QPDFObjectHandle::newStream(&pdf, xmp(words));
  metadata.getDict().replaceKey("/Type", QPDFObjectHandle::newName("/Metadata"));
  metadata.getDict().replaceKey("/Subtype", QPDFObjectHandle::newName("/XML"));

  QPDFObjectHandle root = pdf.getRoot();
  root.replaceKey("/OutputIntents", intents);
  root.replaceKey("/Metadata", pdf.makeIndirectObject(metadata));
  root.replaceKey("/Lang", QPDFObjectHandle::newUnicodeString(words.language));
  auto preferences = QPDFObjectHandle::newDictionary();
  preferences.replaceKey("/DisplayDocTitle", QPDFObjectHandle::newBool(true));
  root.replaceKey("/ViewerPreferences", preferences);

  auto info = QPDFObjectHandle::newDictionary();
  info.replaceKey("/Title", QPDFObjectHandle::newUnicodeString(words.title));
  info.replaceKey("/Creator", QPDFObjectHandle::newString("Batten"));
  info.replaceKey("/Producer", QPDFObjectHandle::newString(std::string(producer)));
  info.replaceKey("/CreationDate", QPDFObjectHandle::newString(pdf_date(words.created)));
  info.replaceKey("/ModDate", QPDFObjectHandle::newString(pdf_date(words.created)));
  pdf.getTrailer().replaceKey("/Info", pdf.makeIndirectObject(info));

  QPDFWriter writer(pdf);
  writer.setOutputMemory();
  writer.setDeterministicID(true);
  writer.setObjectStreamMode(qpdf_o_generate);
  writer.write();
  const std::unique_ptr<Buffer> buffer(writer.getBuffer());
  return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
}

}  // namespace batten::paper
