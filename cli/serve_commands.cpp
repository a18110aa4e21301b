#include "cli/serve_commands.hpp"

#include "app/line_job.hpp"
#include "cli/desk_work.hpp"
#include "json/device_json.hpp"
#include "server/qr.hpp"
#include "server/serve.hpp"

#include <fmt/format.h>

#include <csignal>
#include <cstdio>
#include <unistd.h>
#include <vector>

namespace batten::cli {

namespace {

// On standard error: standard output has the address and nothing else.
void show_invitation(server::Server& server) {
  const auto invitation = server.invite();
  say_aside(fmt::format(
      "On the network: {}\nCode for one phone or tablet, good for ten minutes: {} {}\n"
      "The browser will warn of a certificate it does not know. Go on only if it shows this "
      "fingerprint (SHA-256):\n{}",
      invitation.url, invitation.code.substr(0, 4), invitation.code.substr(4),
      invitation.fingerprint));
  if (isatty(STDERR_FILENO) == 1) say_aside(server::qr_terminal(invitation.link));
}

}  // namespace

int serve(const Common& common, const ServeWords& words) {
  const auto store = store_of(common);
  if (!store) return fail(common, store.error());
  // Before any thread is made, so that all of them leave the signals to this one.
  sigset_t ends;
  sigemptyset(&ends);
  sigaddset(&ends, SIGINT);
  sigaddset(&ends, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &ends, nullptr);

  server::ServeOptions options;
  options.store = *store;
  options.who = common.who;
  options.version = "0.1.0";
  options.port = words.port;
  options.lan = words.lan;
  options.lan_port = words.lan_port;
  options.web = words.web;
  options.compiled = server::assets();
  options.routes = server::routes();
  options.backups = true;
  options.no_backup = [](const Problem& problem) {
    say_aside("No backup was made. " + problem.sentence());
  };
  const auto server = server::Server::start(options);
  if (!server) return fail(common, server.error());
  std::printf("%s\n", (*server)->url().c_str());
  std::fflush(stdout);
  if (words.lan) show_invitation(**server);
  int which = 0;
  sigwait(&ends, &which);
  (*server)->stop();
  return done;
}

int devices(const Common& common) {
  auto desk = desk_of(common);
  if (!desk) return fail(common, desk.error());
  const auto all = guarded([&]() -> Result<std::vector<Device>> { return desk->store.devices(); });
  if (!all) return fail(common, all.error());
  if (common.json) {
    std::printf("%s\n", to_json(*all).c_str());
    return done;
  }
  if (all->empty()) std::printf("No device is paired. See: batten serve --lan\n");
  for (const Device& device : *all)
    std::printf("%s\n", fmt::format("{}  paired {}, last seen {}{}", device.name,
                                    print_clock(device.paired_ms), print_clock(device.seen_ms),
                                    device.revoked_ms ? ", revoked" : "")
                            .c_str());
  return done;
}

int revoke_device(const Common& common, const std::string& name) {
  auto desk = desk_of(common);
  if (!desk) return fail(common, desk.error());
  const auto gone = guarded([&]() -> Result<Device> {
    std::string known;
    for (const Device& device : desk->store.devices()) {
      if (device.revoked_ms) continue;
      if (device.name == name) return desk->store.revoke_device(device.id, desk->now_ms());
      known += (known.empty() ? "" : ", ") + device.name;
    }
    return problem(fmt::format("No paired device is called \"{}\".", name),
                   known.empty() ? "None is paired." : "There are: " + known + ".",
                   "Nothing was changed.");
  });
  if (!gone) return fail(common, gone.error());
  if (common.json) {
    std::printf("%s\n", to_json({*gone}).c_str());
  } else {
    std::printf("revoked: %s\n", gone->name.c_str());
  }
  return done;
}

}  // namespace batten::cli
