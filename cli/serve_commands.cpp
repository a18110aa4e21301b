#include "cli/serve_commands.hpp"

#include "cli/desk_work.hpp"
#include "server/serve.hpp"

#include <csignal>
#include <cstdio>

namespace batten::cli {

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
  options.web = words.web;
  options.compiled = server::assets();
  options.routes = server::routes();
  const auto server = server::Server::start(options);
  if (!server) return fail(common, server.error());
  std::printf("%s\n", (*server)->url().c_str());
  std::fflush(stdout);
  int which = 0;
  sigwait(&ends, &which);
  (*server)->stop();
  return done;
}

}  // namespace batten::cli
