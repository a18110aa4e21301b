#include "reports/output.hpp"

#include "reports/archive.hpp"
#include "reports/failure.hpp"

#include <fmt/format.h>

#include <cairo-pdf.h>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <fcntl.h>
#include <functional>
#include <unistd.h>

namespace batten::paper {
namespace {

[[noreturn]] void fail(const std::filesystem::path& file, const std::string& why) {
  throw ReportFailure(
      {.happened = fmt::format("The sheet could not be written to {}: {}.", file.string(), why),
       .kept = "An older sheet of that name is unchanged.",
       .todo = "Check that the folder exists, may be written to and has room, or "
               "name another file."});
}

std::string reason(int code) { return std::strerror(code); }

}  // namespace

// Bytes to the disk under a name of their own, then to their place in one step.
void write_file(const std::filesystem::path& file, const std::string& bytes) {
  std::string temporary = file.string() + ".XXXXXX";
  const int handle = mkstemp(temporary.data());
  if (handle < 0) fail(file, reason(errno));
  const auto give_up = [&](int code) {
    close(handle);
    unlink(temporary.c_str());
    fail(file, reason(code));
  };
  for (std::size_t written = 0; written < bytes.size();) {
    const ssize_t n = write(handle, bytes.data() + written, bytes.size() - written);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) give_up(errno);
    written += static_cast<std::size_t>(n);
  }
  // mkstemp keeps the file to its owner; a sheet is handed round, as far as the user's mask allows.
  const mode_t mask = umask(0);
  umask(mask);
  if (fchmod(handle, 0666 & ~mask) != 0 || fsync(handle) != 0) give_up(errno);
  if (close(handle) != 0) {
    const int code = errno;
    unlink(temporary.c_str());
    fail(file, reason(code));
  }
  if (std::rename(temporary.c_str(), file.c_str()) != 0) {
    const int code = errno;
    unlink(temporary.c_str());
    fail(file, reason(code));
  }
}

namespace {

Cairo::Surface::SlotWriteFunc collect(std::string& bytes) {
  return [&bytes](const unsigned char* data, unsigned length) {
    bytes.append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
  };
}

}  // namespace

std::string pdf_bytes(const std::vector<std::unique_ptr<Page>>& pages, const std::string& title,
                      const std::string& created, const std::string& language) {
  std::string bytes;
  {
    auto surface = Cairo::PdfSurface::create_for_stream(collect(bytes), pages.front()->width(),
                                                        pages.front()->height());
    // The date of the day would be written otherwise.
    cairo_pdf_surface_set_metadata(surface->cobj(), CAIRO_PDF_METADATA_CREATE_DATE,
                                   created.c_str());
    auto context = Cairo::Context::create(surface);
    for (const auto& page : pages) {
      page->paint(context);
      context->show_page();
    }
    surface->finish();
  }
  return archived(bytes, {title, created, language});
}

void write_pdf(const std::vector<std::unique_ptr<Page>>& pages, const std::string& title,
               const std::string& created, const std::filesystem::path& file,
               const std::string& language) {
  write_file(file, pdf_bytes(pages, title, created, language));
}

std::string png_bytes(const Page& page, double dpi) {
  const double per_point = dpi / 72;
  auto surface = Cairo::ImageSurface::create(
      Cairo::ImageSurface::Format::RGB24, static_cast<int>(std::lround(page.width() * per_point)),
      static_cast<int>(std::lround(page.height() * per_point)));
  auto context = Cairo::Context::create(surface);
  context->set_source_rgb(1, 1, 1);
  context->paint();
  context->scale(per_point, per_point);
  page.paint(context);
  std::string bytes;
  surface->write_to_png_stream(collect(bytes));
  return bytes;
}

void write_png(const Page& page, double dpi, const std::filesystem::path& file) {
  write_file(file, png_bytes(page, dpi));
}

}  // namespace batten::paper
