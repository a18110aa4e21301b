#include "tests/planning/exact_time_box.hpp"

#include <algorithm>
#include <glpk.h>
#include <limits>

namespace batten::exact {
namespace {

bool has(std::uint32_t passes, std::size_t pass) { return (passes >> pass & 1U) != 0; }

// Columns: x of every bundle, then per pass whether it is set up and whether it is worked in.
class Program {
 public:
  explicit Program(const TimeBoxTask& task) : task_(task), problem_(glp_create_prob()) {
    glp_set_obj_dir(problem_, GLP_MIN);
    for (const auto& bundles : task.notes) {
      first_.push_back(columns_ + 1);
      for (const Bundle& b : bundles) {
        const int column = add_column();
        glp_set_obj_coef(problem_, column, b.cost);
      }
    }
    for (std::size_t p = 0; p < task.set_up.size(); ++p) set_up_.push_back(add_column());
    for (std::size_t p = 0; p < task.set_up.size(); ++p) worked_.push_back(add_column());
    add_rows();
  }
  ~Program() { glp_delete_prob(problem_); }
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  Answer solve(double gap, double seconds) {
    glp_iocp how;
    glp_init_iocp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.presolve = GLP_ON;
    how.mir_cuts = how.cov_cuts = GLP_ON;
    how.mip_gap = gap;
    how.tm_lim = static_cast<int>(seconds * 1000);
    double bound = -std::numeric_limits<double>::infinity();
    how.cb_info = &bound;
    how.cb_func = [](glp_tree* tree, void* info) {
      const int best = glp_ios_best_node(tree);
      if (best != 0) *static_cast<double*>(info) = glp_ios_node_bound(tree, best);
    };
    const int code = glp_intopt(problem_, &how);
    Answer answer;
    const int status = glp_mip_status(problem_);
    if (status != GLP_OPT && status != GLP_FEAS) return answer;
    answer.solved = code == 0 || code == GLP_EMIPGAP;
    answer.cost = glp_mip_obj_val(problem_);
    answer.bound = code == 0 && status == GLP_OPT && gap == 0 ? answer.cost : bound;
    for (std::size_t n = 0; n < task_.notes.size(); ++n) {
      for (std::size_t b = 0; b < task_.notes[n].size(); ++b) {
        if (glp_mip_col_val(problem_, column(n, b)) > 0.5) answer.bundle.push_back(b);
      }
    }
    return answer;
  }

 private:
  struct Row {
    std::vector<int> columns{0};  // GLPK counts from one
    std::vector<double> factors{0};
    void add(int column, double factor) {
      columns.push_back(column);
      factors.push_back(factor);
    }
  };

  int add_column() {
    glp_add_cols(problem_, 1);
    glp_set_col_kind(problem_, ++columns_, GLP_BV);
    return columns_;
  }
  int column(std::size_t note, std::size_t bundle) const {
    return first_[note] + static_cast<int>(bundle);
  }
  // kind GLP_UP: at most `limit`; GLP_FX: exactly.
  void add_row(const Row& row, int kind, double limit) {
    const int index = glp_add_rows(problem_, 1);
    glp_set_row_bnds(problem_, index, kind, limit, limit);
    glp_set_mat_row(problem_, index, static_cast<int>(row.columns.size()) - 1, row.columns.data(),
                    row.factors.data());
  }
  // The bundles of a note that have work in a pass.
  Row work(std::size_t note, std::size_t pass, double sign) const {
    Row row;
    for (std::size_t b = 0; b < task_.notes[note].size(); ++b) {
      if (has(task_.notes[note][b].passes, pass)) row.add(column(note, b), sign);
    }
    return row;
  }

  void add_rows() {
    Row minutes;
    for (std::size_t n = 0; n < task_.notes.size(); ++n) {
      Row one;
      for (std::size_t b = 0; b < task_.notes[n].size(); ++b) {
        one.add(column(n, b), 1);
        minutes.add(column(n, b), task_.notes[n][b].minutes);
      }
      add_row(one, GLP_FX, 1);
    }
    for (std::size_t p = 0; p < set_up_.size(); ++p) {
      minutes.add(set_up_[p], task_.set_up[p]);
      Row follows;
      follows.add(worked_[p], 1);
      follows.add(set_up_[p], -1);
      add_row(follows, GLP_UP, 0);
      for (std::size_t q = 0; q < set_up_.size(); ++q) {
        if (task_.needs.empty() || q == p || !has(task_.needs[p], q)) continue;
        Row needs;
        needs.add(set_up_[p], 1);
        needs.add(set_up_[q], -1);
        add_row(needs, GLP_UP, 0);
      }
      for (std::size_t n = 0; n < task_.notes.size(); ++n) {
        Row row = work(n, p, 1);
        if (row.columns.size() > 1) {
          row.add(worked_[p], -1);
          add_row(row, GLP_UP, 0);
        }
        if (task_.leads.empty() || !has(task_.leads[n], p)) continue;
        Row leads = work(n, p, -1);
        leads.add(worked_[p], 1);
        add_row(leads, GLP_UP, 0);
      }
    }
    add_row(minutes, GLP_UP, task_.minutes);
  }

  const TimeBoxTask& task_;
  glp_prob* problem_;
  int columns_ = 0;
  std::vector<int> first_, set_up_, worked_;
};

}  // namespace

Answer solve_time_box(const TimeBoxTask& task, double gap, double seconds) {
  glp_term_out(GLP_OFF);
  return Program(task).solve(gap, seconds);
}

bool is_permitted(const TimeBoxTask& task, const std::vector<std::size_t>& bundle, double* cost) {
  std::uint32_t worked = 0;
  double minutes = 0, sum = 0;
  for (std::size_t n = 0; n < bundle.size(); ++n) {
    const Bundle& b = task.notes[n].at(bundle[n]);
    worked |= b.passes;
    minutes += b.minutes;
    sum += b.cost;
  }
  for (std::size_t n = 0; n < bundle.size(); ++n) {
    const std::uint32_t due = task.leads.empty() ? 0 : task.leads[n] & worked;
    if ((due & ~task.notes[n][bundle[n]].passes) != 0) return false;
  }
  std::vector<bool> up(task.set_up.size());
  for (std::size_t p = 0; p < up.size(); ++p) up[p] = has(worked, p);
  for (bool more = !task.needs.empty(); more;) {
    more = false;
    for (std::size_t p = 0; p < up.size(); ++p) {
      for (std::size_t q = 0; q < up.size(); ++q) {
        if (!up[p] || up[q] || !has(task.needs[p], q)) continue;
        up[q] = more = true;
      }
    }
  }
  for (std::size_t p = 0; p < up.size(); ++p) minutes += up[p] ? task.set_up[p] : 0;
  if (cost != nullptr) *cost = sum;
  return minutes <= task.minutes + 1e-6;
}

double try_all(const TimeBoxTask& task) {
  double least = std::numeric_limits<double>::infinity();
  std::vector<std::size_t> bundle(task.notes.size(), 0);
  for (bool more = true; more;) {
    double cost = 0;
    if (is_permitted(task, bundle, &cost)) least = std::min(least, cost);
    more = false;
    for (std::size_t n = 0; n < bundle.size() && !more; ++n) {
      more = ++bundle[n] < task.notes[n].size();
      if (!more) bundle[n] = 0;
    }
  }
  return least;
}

}  // namespace batten::exact
