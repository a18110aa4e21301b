#include "workshop/judge.hpp"

#include "core/regulation/catalogue/readings.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace batten::workshop {
namespace {

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::ranges::nth_element(v, middle);
  return *middle;
}

// A polynomial of `order` through the points, biweighted, at `where`.
template <int order>
double robust_fit(const std::vector<double>& x, const std::vector<double>& y, double where) {
  using Vector = Eigen::Matrix<double, order + 1, 1>;
  using Matrix = Eigen::Matrix<double, order + 1, order + 1>;
  const std::size_t n = x.size();
  const auto terms = [&](double at) {
    Vector t;
    double power = 1;
    for (int i = 0; i <= order; ++i, power *= (at - where) / 10) t(i) = power;
    return t;
  };
  std::vector<double> weight(n, 1), left(n);
  double value = 0;
  for (int round = 0; round < 6; ++round) {
    Matrix a = 1e-9 * Matrix::Identity();
    Vector b = Vector::Zero();
    for (std::size_t i = 0; i < n; ++i) {
      const Vector t = terms(x[i]);
      a += weight[i] * t * t.transpose();
      b += weight[i] * y[i] * t;
    }
    const Vector c = a.ldlt().solve(b);
    value = c(0);
    std::vector<double> size(n);
    for (std::size_t i = 0; i < n; ++i) {
      left[i] = y[i] - terms(x[i]).dot(c);
      size[i] = std::abs(left[i]);
    }
    // 4.685 times the scale keeps 95 % efficiency; 1.4826 makes the scale of the median deviation.
    const double reach = std::max(1e-6, 4.685 * 1.4826 * median(size));
    for (std::size_t i = 0; i < n; ++i) {
      const double u = left[i] / reach;
      weight[i] = std::abs(u) < 1 ? (1 - u * u) * (1 - u * u) : 0;
    }
  }
  return value;
}

}  // namespace

std::vector<double> neighbours_line(const std::vector<double>& x, const std::vector<double>& y) {
  constexpr std::ptrdiff_t each_side = 4;
  const auto n = static_cast<std::ptrdiff_t>(x.size());
  std::vector<double> out;
  for (std::ptrdiff_t i = 0; i < n; ++i) {
    const auto from = std::max<std::ptrdiff_t>(0, i - each_side),
               to = std::min(n, i + each_side + 1);
    out.push_back(robust_fit<1>({x.begin() + from, x.begin() + to},
                                {y.begin() + from, y.begin() + to},
                                x[static_cast<std::size_t>(i)]));
  }
  return out;
}

std::vector<double> fair_parabola(const std::vector<double>& x, const std::vector<double>& y) {
  std::vector<double> out;
  for (const double at : x) out.push_back(robust_fit<2>(x, y, at));
  return out;
}

Verdict judge(HiddenPiano& piano, const std::vector<NoteTargets>& targets) {
  const auto truth = piano.truth();
  const std::size_t count = truth.size();
  Verdict v;
  v.notes = static_cast<int>(count);
  std::vector<bool> all(count, true);
  double squares = 0;
  for (std::size_t j = 0; j < judged_count; ++j) {
    const Aim aim = judged_aims[j];
    const ReadingKind& kind = kind_of(reading_of(aim, piano.compass().lowest));
    const double absolute = kind.tolerance_absolute.value(),
                 neighbours = kind.tolerance_neighbours.value();
    const bool by_colour = aim == Aim::dip || aim == Aim::aftertouch;
    double sum = 0;
    for (const Section& section : piano.sections())
      for (const int colour : by_colour ? std::vector{0, 1} : std::vector{2}) {
        std::vector<double> x, y;
        std::vector<std::size_t> place;
        for (Key k = section.first; k <= section.last; ++k.number) {
          if (colour != 2 && is_sharp(k) != (colour == 1)) continue;
          const auto at = static_cast<std::size_t>(piano.compass().position(k));
          const double value = truth[at][aim];
          if (!(value == value)) {
            all[at] = false;
            sum += 100;
            continue;
          }
          x.push_back(k.number);
          y.push_back(value);
          place.push_back(at);
        }
        if (x.empty()) continue;
        const auto line = neighbours_line(x, y), fair = fair_parabola(x, y);
        for (std::size_t i = 0; i < x.size(); ++i) {
          const double off = y[i] - targets[place[i]][index_of(aim)];
          const bool near_target = std::abs(off) <= absolute;
          const bool near_line = std::abs(y[i] - line[i]) <= neighbours;
          v.inside_absolute[j] += near_target ? 1 : 0;
          v.inside_neighbours[j] += near_line ? 1 : 0;
          v.inside[j] += near_target && near_line ? 1 : 0;
          if (!near_target || !near_line) all[place[i]] = false;
          const double rough = (y[i] - fair[i]) / neighbours;
          sum += std::min(100.0, rough * rough);
        }
      }
    v.unevenness[j] = std::sqrt(sum / static_cast<double>(count));
    squares += sum;
  }
  v.unevenness_all = std::sqrt(squares / static_cast<double>(count * judged_count));
  v.inside_all = static_cast<int>(std::ranges::count(all, true));
  int read = 0;
  for (const NoteTruth& t : truth)
    if (t[Aim::aftertouch] == t[Aim::aftertouch]) {
      v.aftertouch += t[Aim::aftertouch];
      v.dip += t[Aim::dip];
      ++read;
    }
  v.aftertouch /= std::max(1, read);
  v.dip /= std::max(1, read);
  return v;
}

}  // namespace batten::workshop
