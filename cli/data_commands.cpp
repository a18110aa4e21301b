#include "cli/data_commands.hpp"

#include "app/backups.hpp"
#include "app/bundle_job.hpp"
#include "app/files.hpp"
#include "app/line_job.hpp"
#include "app/shop_settings.hpp"
#include "cli/desk_work.hpp"
#include "json/shop_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <optional>
#include <string>
#include <system_error>

namespace batten::cli {

namespace {

// Of a bundle; one byte more than the reader takes is enough for it to say so.
constexpr std::size_t most_bytes = std::size_t{51} << 20U;

std::string counted(std::size_t count, const char* one, const char* more) {
  return fmt::format("{} {}", count, count == 1 ? one : more);
}

struct BundleWords {
  std::string file, import, as;
};

int give(const Common& common, const BundleWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    auto text = bundle_of(desk, piano);
    if (!text) return fail(common, text.error());
    const std::string file = words.file.empty() ? bundle_name(piano, desk.now_ms()) : words.file;
    if (auto written = write_file(file, *text); !written) return fail(common, written.error());
    auto revision = desk.store.revision(piano.id);
    if (common.json) {
      say(bundle_file_to_json(file, revision.value_or(0)));
    } else {
      say(fmt::format("written: {}, {} of \"{}\"", file,
                      counted(static_cast<std::size_t>(revision.value_or(0)), "entry", "entries"),
                      piano.name));
    }
    return done;
  });
}

int take(const Common& common, const BundleWords& words) {
  auto text = read_file(words.import, most_bytes);
  if (!text) return fail(common, text.error());
  return with_desk(common, [&](Desk& desk) {
    auto taken = take_bundle(desk, *text, words.as);
    if (!taken) return fail(common, taken.error());
    if (common.json) {
      say(to_json(*taken));
      return done;
    }
    const MergeOutcome& m = taken->merged;
    say(fmt::format("{} \"{}\": {} and {} new, {} there already",
                    m.piano_added ? "added" : "joined to", m.piano.name,
                    counted(m.entries_added, "entry", "entries"),
                    counted(m.visits_added, "visit", "visits"), m.entries_already_there));
    if (m.piano.name != taken->called)
      say(fmt::format(
          "It is called \"{}\" in the file{}.", taken->called,
          m.piano_added && words.as.empty() ? "; another piano has that name here" : ""));
    return done;
  });
}

struct BackupWords {
  std::string restore;
  bool now = false;
};

std::string size_of(std::uintmax_t bytes) {
  return fmt::format("{:.1f} MB", static_cast<double>(bytes) / 1e6);
}

int backup_now(const Common& common) {
  return with_desk(common, [&](Desk& desk) {
    auto made = make_backup_now(desk);
    if (!made) return fail(common, made.error());
    say(common.json ? to_json(*made)
                    : fmt::format("written: {}, {}", made->file.string(), size_of(made->bytes)));
    return done;
  });
}

int backup_list(const Common& common) {
  return with_desk(common, [&](Desk& desk) {
    auto all = backups(desk);
    if (!all) return fail(common, all.error());
    if (common.json) {
      say(to_json(*all));
      return done;
    }
    if (!all->folder)
      say_aside("No backups are made by themselves; see: batten shop backup-folder.");
    if (all->files.empty())
      say("There is no backup yet. One is made after the next command, or by "
          "\"batten backup now\".");
    for (const BackupFile& one : all->files)
      say(fmt::format("{}  {:>9}  {}", print_timestamp(one.made_ms), size_of(one.bytes),
                      one.file.string()));
    return done;
  });
}

int restore(const Common& common, const std::string& wanted) {
  auto store = store_of(common);
  if (!store) return fail(common, store.error());
  const auto now = std::chrono::duration_cast<std::chrono::milliseconds>(
                       std::chrono::system_clock::now().time_since_epoch())
                       .count();
  auto restored = restore_store(*store, wanted, now);
  if (!restored) return fail(common, restored.error());
  if (common.json) {
    say(to_json(*restored));
    return done;
  }
  say(fmt::format("restored: {}", store->string()));
  if (restored->kept) say(fmt::format("The store there was is kept: {}", restored->kept->string()));
  if (restored->revoked > 0)
    say(fmt::format("{} stayed shut out.",
                    counted(static_cast<std::size_t>(restored->revoked), "device", "devices")));
  return done;
}

struct ShopWords {
  std::string name, value;
  bool valued = false;
};

int set_shop(const Common& common, const std::string& name, const std::string& value) {
  return with_desk(common, [&](Desk& desk) {
    if (auto chosen = choose_for_shop(desk, name, value); !chosen)
      return fail(common, chosen.error());
    if (common.json) {
      auto settings = shop_settings(desk);
      auto made = backups(desk);
      if (settings && made) say(shop_to_json(*settings, desk.store.logo(), *made));
    } else {
      say(value.empty() ? fmt::format("{}: as usual again", name) : fmt::format("kept: {}", name));
    }
    return done;
  });
}

// One setting's line, or all of them.
int show_shop(const Common& common, const std::string& only) {
  return with_desk(common, [&](Desk& desk) {
    auto settings = shop_settings(desk);
    if (!settings) return fail(common, settings.error());
    auto made = backups(desk);
    if (!made) return fail(common, made.error());
    const auto logo = guarded([&]() -> Result<std::optional<Logo>> { return desk.store.logo(); });
    if (!logo) return fail(common, logo.error());
    if (common.json) {
      say(shop_to_json(*settings, *logo, *made));
      return done;
    }
    const auto known = std::ranges::find(shop_guide(), only, &SettingGuide::name);
    if (!only.empty() && only != "logo" && known == shop_guide().end())
      return set_shop(common, only, "");  // which says what there is
    for (const SettingGuide& g : shop_guide()) {
      if (!only.empty() && only != g.name) continue;
      const auto set = settings->find(g.name);
      if (set == settings->end()) {
        say(fmt::format("{:<24}{}", g.name, inked(g.usual.empty() ? "–" : g.usual, Ink::quiet)));
        continue;
      }
      std::string value;
      for (const std::string& line : lines_of(set->second))
        value += (value.empty() ? "" : "; ") + line;
      say(fmt::format("{:<24}{}", g.name, value));
    }
    if (!only.empty() && only != "logo") return done;
    say(fmt::format(
        "{:<24}{}", "logo",
        *logo ? fmt::format("{}, {} kB", (*logo)->media_type, ((*logo)->bytes.size() + 1023) / 1024)
              : "–"));
    return done;
  });
}

int set_logo(const Common& common, const std::string& file) {
  std::optional<Logo> logo;
  if (file != "none") {
    auto bytes = read_file(file, most_logo_bytes);
    if (!bytes) return fail(common, bytes.error());
    auto checked = check_logo(*bytes);
    if (!checked) return fail(common, checked.error());
    logo = std::move(*checked);
  }
  return with_desk(common, [&](Desk& desk) {
    if (auto kept = choose_logo(desk, logo); !kept) return fail(common, kept.error());
    say(common.json ? "{\"logo\": " + std::string(logo ? "true" : "false") + "}"
        : logo      ? "kept: logo"
                    : "no logo from now on");
    return done;
  });
}

}  // namespace

void add_data_commands(CLI::App& app, const Common& common, Command& chosen) {
  auto b = std::make_shared<BundleWords>();
  auto* s =
      command(app, chosen, "bundle", "a piano with its whole journal as one file, and back",
              "  batten bundle                           into this folder\n"
              "  batten bundle -o aula.batten.json\n"
              "  batten bundle --import aula.batten.json   joined to what is here, nothing twice\n"
              "  batten bundle --import aula.batten.json --as \"Aula, from Zoë\"",
              [b, &common] { return b->import.empty() ? give(common, *b) : take(common, *b); });
  auto* output = s->add_option("-o,--output", b->file, "file");
  auto* import = s->add_option("--import", b->import, "take such a file in")->excludes(output);
  s->add_option("--as", b->as, "what a piano that is not here yet is to be called")->needs(import);

  auto k = std::make_shared<BackupWords>();
  auto* backup =
      command(app, chosen, "backup", "copies of the store, and back to one",
              "  batten backup list\n  batten backup now\n"
              "  batten backup restore 2026-11-25     the newest of that day; the store "
              "there is kept\n"
              "  batten backup restore /media/stick/batten/….backup",
              [k, &common] {
                if (k->now) return backup_now(common);
                return k->restore.empty() ? backup_list(common) : restore(common, k->restore);
              });
  auto* list = backup->add_subcommand("list", "those there are, newest first");
  list->fallthrough();
  auto* now = backup->add_subcommand("now", "one more");
  now->fallthrough();
  now->callback([k] { k->now = true; });
  auto* back = backup->add_subcommand("restore", "the store as it was then");
  back->fallthrough();
  back->add_option("WHICH", k->restore, "a file, or the beginning of its time as listed")
      ->required();

  auto w = std::make_shared<ShopWords>();
  auto* shop =
      command(app, chosen, "shop", "what holds for the workshop: letterhead, paper, backups",
              "  batten shop                                    what is set\n"
              "  batten shop letterhead-name \"Mira Sand, grand pianos\"\n"
              "  batten shop letterhead-lines \"Mill Lane 3, Oxbury; 0555 123 456\"\n"
              "  batten shop language de\n  batten shop paper usual\n"
              "  batten shop logo logo.png                      batten shop logo none",
              [w, &common] {
                if (!w->valued) return show_shop(common, w->name);
                if (w->name == "logo") return set_logo(common, w->value);
                return set_shop(common, w->name, w->value == "usual" ? "" : w->value);
              });
  shop->add_option("NAME", w->name, "which setting, or logo");
  auto* value = shop->add_option("VALUE", w->value,
                                 "what it is to be; \"usual\": as if it had never been set");
  shop->parse_complete_callback([w, value] { w->valued = value->count() > 0; });
}

void back_up_if_due(const Common& common) {
  const auto store = store_of(common);
  std::error_code none;
  if (!store || !std::filesystem::is_regular_file(*store, none)) return;
  auto desk = open_desk(*store, {});
  if (!desk) return;  // the command has said so
  if (auto made = make_backup_if_due(*desk); !made)
    say_aside("No backup was made. " + made.error().sentence());
}

}  // namespace batten::cli
