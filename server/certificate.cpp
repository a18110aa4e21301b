#include "server/certificate.hpp"

#include "server/secrets.hpp"

#include <fmt/format.h>

#include <array>
#include <ctime>
#include <fcntl.h>
#include <fstream>
#include <ifaddrs.h>
#include <iterator>
#include <memory>
#include <net/if.h>
#include <netdb.h>
#include <openssl/ec.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>
#include <sys/socket.h>
#include <system_error>
#include <unistd.h>

namespace batten::server {

namespace {

namespace fs = std::filesystem;

constexpr long day = 24L * 60 * 60;  // seconds
constexpr long lifetime = 825 * day;
constexpr long renew_before = 30 * day;

template <auto free>
struct Free {
  template <class T>
  void operator()(T* thing) const {
    free(thing);
  }
};
using Key = std::unique_ptr<EVP_PKEY, Free<EVP_PKEY_free>>;
using X509Ptr = std::unique_ptr<X509, Free<X509_free>>;
using Bio = std::unique_ptr<BIO, Free<BIO_free_all>>;

std::string text_of(BIO* bio) {
  char* bytes = nullptr;
  const long count = BIO_get_mem_data(bio, &bytes);
  return count > 0 ? std::string(bytes, static_cast<std::size_t>(count)) : std::string();
}

std::string read_file(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

// Whole or not at all, and never readable to others for a moment.
bool write_file(const fs::path& file, const std::string& text, unsigned mode) {
  const std::string aside = file.string() + ".new";
  unlink(aside.c_str());
  const int handle = open(aside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
  if (handle < 0) return false;
  bool good = write(handle, text.data(), text.size()) == static_cast<ssize_t>(text.size());
  good = fsync(handle) == 0 && good;
  good = close(handle) == 0 && good;
  std::error_code error;
  if (good) fs::rename(aside, file, error);
  if (!good || error) unlink(aside.c_str());
  return good && !error;
}

Key read_key(const std::string& pem) {
  const Bio bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  return Key(PEM_read_bio_PrivateKey(bio.get(), nullptr, nullptr, nullptr));
}

X509Ptr read_certificate(const std::string& pem) {
  const Bio bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  return X509Ptr(PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr));
}

bool add(X509* certificate, int what, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, certificate, certificate, nullptr, nullptr, 0);
  X509_EXTENSION* const one = X509V3_EXT_conf_nid(nullptr, &context, what, value.c_str());
  if (one == nullptr) return false;
  const bool good = X509_add_ext(certificate, one, -1) == 1;
  X509_EXTENSION_free(one);
  return good;
}

X509Ptr make_certificate(EVP_PKEY* key, const OwnNames& names) {
  X509Ptr certificate(X509_new());
  X509* const c = certificate.get();
  // RFC 5280, 4.1.2.2: a positive number of up to 20 bytes.
  std::array<unsigned char, 16> serial{};
  if (c == nullptr || RAND_bytes(serial.data(), static_cast<int>(serial.size())) != 1) return {};
  serial[0] &= 0x7f;
  const std::unique_ptr<BIGNUM, Free<BN_free>> number(
      BN_bin2bn(serial.data(), static_cast<int>(serial.size()), nullptr));
  BN_to_ASN1_INTEGER(number.get(), X509_get_serialNumber(c));
  X509_set_version(c, X509_VERSION_3);
  // An hour back: a tablet's clock may be late.
  X509_gmtime_adj(X509_getm_notBefore(c), -3600);
  X509_gmtime_adj(X509_getm_notAfter(c), lifetime - 3600);
  X509_set_pubkey(c, key);
  X509_NAME* const name = X509_get_subject_name(c);
  constexpr std::string_view who = "Batten";
  X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_UTF8,
                             reinterpret_cast<const unsigned char*>(who.data()),
                             static_cast<int>(who.size()), -1, 0);
  X509_set_issuer_name(c, name);
  std::string also;
  for (const std::string& one : names.names) also += (also.empty() ? "DNS:" : ",DNS:") + one;
  for (const std::string& one : names.addresses) also += (also.empty() ? "IP:" : ",IP:") + one;
  const bool good = add(c, NID_basic_constraints, "critical,CA:FALSE") &&
                    add(c, NID_key_usage, "critical,digitalSignature") &&
                    add(c, NID_ext_key_usage, "serverAuth") && add(c, NID_subject_alt_name, also) &&
                    X509_sign(c, key, EVP_sha256()) > 0;
  if (!good) return {};
  return certificate;
}

std::string fingerprint_of(X509* certificate) {
  Digest digest{};
  unsigned size = 0;
  X509_digest(certificate, EVP_sha256(), digest.data(), &size);
  std::string text;
  for (const std::uint8_t byte : digest)
    text += fmt::format("{}{:02X}", text.empty() ? "" : ":", byte);
  return text;
}

bool is_host_name(const std::string& name) {
  return !name.empty() && name.size() < 64 &&
         name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-.") == std::string::npos;
}

}  // namespace

OwnNames own_names() {
  OwnNames own{{"localhost"}, {"127.0.0.1"}};
  std::array<char, 256> host{};
  if (gethostname(host.data(), host.size() - 1) == 0) {
    std::string name(host.data());
    for (char& c : name)
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (is_host_name(name) && name != "localhost") {
      own.names.push_back(name);
      if (name.find('.') == std::string::npos) own.names.push_back(name + ".local");
    }
  }
  ifaddrs* all = nullptr;
  if (getifaddrs(&all) != 0) return own;
  for (const ifaddrs* one = all; one != nullptr; one = one->ifa_next) {
    if (one->ifa_addr == nullptr || (one->ifa_flags & IFF_LOOPBACK) != 0) continue;
    const int family = one->ifa_addr->sa_family;
    if (family != AF_INET && family != AF_INET6) continue;
    std::array<char, NI_MAXHOST> text{};
    const socklen_t size = family == AF_INET ? sizeof(sockaddr_in) : sizeof(sockaddr_in6);
    if (getnameinfo(one->ifa_addr, size, text.data(), text.size(), nullptr, 0, NI_NUMERICHOST) != 0)
      continue;
    const std::string address(text.data());
    // Link-local ones carry the interface's name and are no use in a browser.
    if (address.find('%') == std::string::npos) own.addresses.push_back(address);
  }
  freeifaddrs(all);
  return own;
}

Result<Certificate> certificate_beside(const fs::path& store, const OwnNames& names) {
  const fs::path key_file = store.string() + ".tls-key.pem";
  const fs::path certificate_file = store.string() + ".tls-cert.pem";
  const auto cannot_write = [](const fs::path& file) {
    return problem(fmt::format("{} could not be written.", file.string()),
                   "Check the folder's permissions and the disk.", "Nothing was started.");
  };
  Certificate made;
  std::error_code error;
  Key key;
  if (fs::exists(key_file, error)) {
    made.key_pem = read_file(key_file);
    key = read_key(made.key_pem);
    if (!key)
      return problem(fmt::format("{} holds no key that can be read.", key_file.string()),
                     "Move it away; a new one is made then, and its fingerprint is another.",
                     "Nothing was started.");
    fs::permissions(key_file, fs::perms::owner_read | fs::perms::owner_write, error);
  } else {
    key.reset(EVP_EC_gen("P-256"));
    const Bio bio(BIO_new(BIO_s_mem()));
    if (!key || PEM_write_bio_PKCS8PrivateKey(bio.get(), key.get(), nullptr, nullptr, 0, nullptr,
                                              nullptr) != 1)
      return problem("A key for the network could not be made.", "Try again.");
    made.key_pem = text_of(bio.get());
    if (!write_file(key_file, made.key_pem, 0600)) return cannot_write(key_file);
  }
  made.certificate_pem = read_file(certificate_file);
  X509Ptr certificate = read_certificate(made.certificate_pem);
  std::time_t soon = std::time(nullptr) + renew_before;
  if (!certificate || X509_cmp_time(X509_get0_notAfter(certificate.get()), &soon) <= 0 ||
      X509_check_private_key(certificate.get(), key.get()) != 1) {
    certificate = make_certificate(key.get(), names);
    const Bio bio(BIO_new(BIO_s_mem()));
    if (!certificate || PEM_write_bio_X509(bio.get(), certificate.get()) != 1)
      return problem("A certificate for the network could not be made.", "Try again.");
    made.certificate_pem = text_of(bio.get());
    if (!write_file(certificate_file, made.certificate_pem, 0644))
      return cannot_write(certificate_file);
  }
  made.fingerprint = fingerprint_of(certificate.get());
  return made;
}

}  // namespace batten::server
