// The printed pages as files: poppler reads their text, pikepdf holds them to PDF/A-2u
// (check_archive.py), neither knowing how they were made.
#include "reports/page_sheet.hpp"
#include "reports/plan_sheet.hpp"
#include "tests/reports/handover_fixture.hpp"

#include <cairomm/context.h>
#include <cairomm/surface.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <unistd.h>

// It wants FILE and size_t declared before.
#include <jpeglib.h>

namespace batten {
namespace {

namespace fs = std::filesystem;

std::string run(const std::string& command, int& code) {
  std::string out;
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  std::array<char, 4096> buffer{};
  while (const std::size_t n = fread(buffer.data(), 1, buffer.size(), pipe))
    out.append(buffer.data(), n);
  code = pclose(pipe);
  return out;
}

// 60 × 20 pixels, half transparent where `alpha`.
std::string png_logo(bool alpha) {
  auto surface = Cairo::ImageSurface::create(
      alpha ? Cairo::ImageSurface::Format::ARGB32 : Cairo::ImageSurface::Format::RGB24, 60, 20);
  auto context = Cairo::Context::create(surface);
  context->set_source_rgba(0.2, 0.4, 0.3, 0.5);
  context->paint();
  std::string bytes;
  surface->write_to_png_stream([&](const unsigned char* data, unsigned length) {
    bytes.append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
  });
  return bytes;
}

// By libjpeg's own compressor; `components` 1, 3 or 4.
std::string jpeg_logo(int components) {
  jpeg_compress_struct info;
  jpeg_error_mgr errors;
  info.err = jpeg_std_error(&errors);
  jpeg_create_compress(&info);
  unsigned char* out = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&info, &out, &size);
  info.image_width = 40;
  info.image_height = 16;
  info.input_components = components;
  info.in_color_space = components == 1 ? JCS_GRAYSCALE : components == 3 ? JCS_RGB : JCS_CMYK;
  jpeg_set_defaults(&info);
  jpeg_start_compress(&info, TRUE);
  std::string row(static_cast<std::size_t>(40 * components), '\x60');
  auto* line = reinterpret_cast<unsigned char*>(row.data());
  while (info.next_scanline < info.image_height) jpeg_write_scanlines(&info, &line, 1);
  jpeg_finish_compress(&info);
  std::string bytes(reinterpret_cast<char*>(out), size);
  jpeg_destroy_compress(&info);
  std::free(out);
  return bytes;
}

class HandoverPdf : public testing::Test {
 protected:
  void SetUp() override {
    folder = fs::temp_directory_path() /
             fmt::format("batten-handover-{}-{}", getpid(),
                         testing::UnitTest::GetInstance()->current_test_info()->name());
    fs::create_directories(folder);
  }
  void TearDown() override { fs::remove_all(folder); }

  static PrintedPages print(const HandoverCase& c, const std::string& logo = {}) {
    const HandoverFacts facts = invented_facts(c);
    PageSheetOptions o;
    o.letterhead = {"Workshop & Daughters <Berlin>", {"1 Street"}, logo};
    o.title = "Seite für die Eigentümer: " + facts.piano;
    o.created = "2026-11-26T08:15:30Z";
    return print_pages({{compose_owner_page(facts, c.style), Extent::one_sheet},
                        {compose_file_sheet(facts, c.style), Extent::as_needed}},
                       o);
  }
  fs::path keep(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder / name, std::ios::binary) << bytes;
    return folder / name;
  }
  void hold_to_archive(const fs::path& file) const {
    int code = 0;
    const std::string said =
        run(fmt::format(BATTEN_DEBIAN_PYTHON " {}/tests/reports/check_archive.py '{}'",
                        BATTEN_SOURCE_DIR, file.string()),
            code);
    EXPECT_EQ(code, 0) << said;
  }

  fs::path folder;
};

TEST_F(HandoverPdf, IsOneToKeep) {
  hold_to_archive(keep("de.pdf", print({.name = "", .style = {Language::german, false}}).pdf));
  hold_to_archive(keep("nothing.pdf", print({.name = "", .read = 0, .done = false}).pdf));
}

TEST_F(HandoverPdf, IsOneToKeepWithEveryKindOfLogo) {
  const HandoverCase c{.name = "", .read = 30};
  hold_to_archive(keep("png.pdf", print(c, png_logo(false)).pdf));
  hold_to_archive(keep("alpha.pdf", print(c, png_logo(true)).pdf));
  for (const int components : {1, 3, 4})
    hold_to_archive(
        keep(fmt::format("jpeg{}.pdf", components), print(c, jpeg_logo(components)).pdf));
}

TEST_F(HandoverPdf, SameValuesSameBytes) {
  const HandoverCase c{.name = "", .read = 40};
  EXPECT_EQ(print(c, png_logo(true)).pdf, print(c, png_logo(true)).pdf);
}

TEST_F(HandoverPdf, TextIsTextAndFontsAreEmbedded) {
  const fs::path file = keep("h.pdf", print({.name = "", .style = {Language::german, false}}).pdf);
  int code = 0;
  const std::string text = run(fmt::format("pdftotext -layout '{}' -", file.string()), code);
  EXPECT_EQ(code, 0);
  EXPECT_NE(text.find("Was sich unter den Fingern ändert"), std::string::npos);
  EXPECT_NE(text.find("Bitte gleich anrufen"), std::string::npos);
  EXPECT_NE(text.find("C♯4"), std::string::npos);
  const std::string fonts = run(fmt::format("pdffonts '{}' | tail -n +3", file.string()), code);
  EXPECT_FALSE(fonts.empty());
  // Columns emb, sub, uni.
  EXPECT_EQ(fonts.find(" no "), std::string::npos) << fonts;
}

TEST_F(HandoverPdf, DamagedLogoIsToldAndNothingPrinted) {
  const HandoverCase c{.name = "", .read = 0};
  std::string cut = png_logo(false);
  cut.resize(cut.size() / 2);
  EXPECT_THROW(print(c, cut), ReportFailure);
  std::string jpeg = jpeg_logo(3);
  jpeg.resize(60);
  EXPECT_THROW(print(c, jpeg), ReportFailure);
  EXPECT_THROW(print(c, "GIF89a and more"), ReportFailure);
}

}  // namespace
}  // namespace batten
