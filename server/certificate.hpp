// The server's own certificate for the network, made when it is first needed.
#pragma once

#include "core/outcome/outcome.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace batten::server {

struct Certificate {
  std::string certificate_pem, key_pem;
  std::string fingerprint;  // SHA-256 of the certificate, "AB:CD:…", as browsers show it
};

// Names and addresses by which this machine may be called: "localhost", its host name with and
// without ".local", its addresses. Small letters; IPv6 without brackets.
struct OwnNames {
  std::vector<std::string> names, addresses;
};
OwnNames own_names();

// From "<store>.tls-key.pem" (mode 0600) and "<store>.tls-cert.pem"; made where they are missing,
// and the certificate made anew, with the same key, when fewer than 30 days of it are left.
// Elliptic curve P-256, self-signed, 825 days (the most that Apple's systems take;
// support.apple.com/103769, from memory). Errors: files that cannot be written, a key that cannot
// be read.
Result<Certificate> certificate_beside(const std::filesystem::path& store, const OwnNames& names);

}  // namespace batten::server
