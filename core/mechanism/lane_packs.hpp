// Registers of two, four or eight doubles, put together to eight lanes; part of lanes.hpp.
//
// Compilers turn vectors longer than the machine's registers into scalar code (measured: g++ 12
// made one step three times slower), so eight lanes are pairs of what one register holds.
#pragma once

#if defined(__SSE2__)
#include <immintrin.h>
#endif

#define BATTEN_LANE_INLINE __attribute__((always_inline)) inline

namespace batten::mechanism {

// base: any machine; avx2, avx512: x86-64-v3 and -v4, only in sources compiled for them.
enum class Isa { base, avx2, avx512 };

namespace detail {

struct Pack2 {
  using Vector = double __attribute__((vector_size(16)));
  using Bits = long long __attribute__((vector_size(16)));
  static constexpr int width = 2;
  struct Mask {
    Bits bits;
    BATTEN_LANE_INLINE bool lane(int i) const { return bits[i] != 0; }
    BATTEN_LANE_INLINE bool any() const { return (bits[0] | bits[1]) != 0; }
    friend BATTEN_LANE_INLINE Mask operator&(Mask a, Mask b) { return {a.bits & b.bits}; }
    friend BATTEN_LANE_INLINE Mask operator|(Mask a, Mask b) { return {a.bits | b.bits}; }
    friend BATTEN_LANE_INLINE Mask operator!(Mask a) { return {~a.bits}; }
  };
  Vector x;
  static BATTEN_LANE_INLINE Pack2 all(double a) { return {Vector{a, a}}; }
  static BATTEN_LANE_INLINE Mask less(Pack2 a, Pack2 b) { return {a.x < b.x}; }
  static BATTEN_LANE_INLINE Mask at_most(Pack2 a, Pack2 b) { return {a.x <= b.x}; }
  static BATTEN_LANE_INLINE Pack2 select(Mask m, Pack2 a, Pack2 b) { return {m.bits ? a.x : b.x}; }
  static BATTEN_LANE_INLINE Pack2 root(Pack2 a) {
#if defined(__SSE2__)
    return {_mm_sqrt_pd(a.x)};
#else
    return {Vector{__builtin_sqrt(a.x[0]), __builtin_sqrt(a.x[1])}};
#endif
  }
  BATTEN_LANE_INLINE double lane(int i) const { return x[i]; }
  BATTEN_LANE_INLINE void set(int i, double value) { x[i] = value; }
  BATTEN_LANE_INLINE Pack2 operator-() const { return {-x}; }
  friend BATTEN_LANE_INLINE Pack2 operator+(Pack2 a, Pack2 b) { return {a.x + b.x}; }
  friend BATTEN_LANE_INLINE Pack2 operator-(Pack2 a, Pack2 b) { return {a.x - b.x}; }
  friend BATTEN_LANE_INLINE Pack2 operator*(Pack2 a, Pack2 b) { return {a.x * b.x}; }
  friend BATTEN_LANE_INLINE Pack2 operator/(Pack2 a, Pack2 b) { return {a.x / b.x}; }
};

#if defined(__AVX2__)
struct Pack4 {
  static constexpr int width = 4;
  struct Mask {
    __m256d bits;
    BATTEN_LANE_INLINE bool lane(int i) const { return ((_mm256_movemask_pd(bits) >> i) & 1) != 0; }
    BATTEN_LANE_INLINE bool any() const { return _mm256_movemask_pd(bits) != 0; }
    friend BATTEN_LANE_INLINE Mask operator&(Mask a, Mask b) {
      return {_mm256_and_pd(a.bits, b.bits)};
    }
    friend BATTEN_LANE_INLINE Mask operator|(Mask a, Mask b) {
      return {_mm256_or_pd(a.bits, b.bits)};
    }
    friend BATTEN_LANE_INLINE Mask operator!(Mask a) {
      return {_mm256_xor_pd(a.bits, _mm256_castsi256_pd(_mm256_set1_epi64x(-1)))};
    }
  };
  __m256d x;
  static BATTEN_LANE_INLINE Pack4 all(double a) { return {_mm256_set1_pd(a)}; }
  static BATTEN_LANE_INLINE Mask less(Pack4 a, Pack4 b) {
    return {_mm256_cmp_pd(a.x, b.x, _CMP_LT_OQ)};
  }
  static BATTEN_LANE_INLINE Mask at_most(Pack4 a, Pack4 b) {
    return {_mm256_cmp_pd(a.x, b.x, _CMP_LE_OQ)};
  }
  static BATTEN_LANE_INLINE Pack4 select(Mask m, Pack4 a, Pack4 b) {
    return {_mm256_blendv_pd(b.x, a.x, m.bits)};
  }
  static BATTEN_LANE_INLINE Pack4 root(Pack4 a) { return {_mm256_sqrt_pd(a.x)}; }
  BATTEN_LANE_INLINE double lane(int i) const { return x[i]; }
  BATTEN_LANE_INLINE void set(int i, double value) { x[i] = value; }
  BATTEN_LANE_INLINE Pack4 operator-() const { return {-x}; }
  friend BATTEN_LANE_INLINE Pack4 operator+(Pack4 a, Pack4 b) { return {a.x + b.x}; }
  friend BATTEN_LANE_INLINE Pack4 operator-(Pack4 a, Pack4 b) { return {a.x - b.x}; }
  friend BATTEN_LANE_INLINE Pack4 operator*(Pack4 a, Pack4 b) { return {a.x * b.x}; }
  friend BATTEN_LANE_INLINE Pack4 operator/(Pack4 a, Pack4 b) { return {a.x / b.x}; }
};
#endif

#if defined(__AVX512F__)
struct Pack8 {
  static constexpr int width = 8;
  struct Mask {
    __mmask8 bits;
    BATTEN_LANE_INLINE bool lane(int i) const { return ((bits >> i) & 1) != 0; }
    BATTEN_LANE_INLINE bool any() const { return bits != 0; }
    friend BATTEN_LANE_INLINE Mask operator&(Mask a, Mask b) {
      return {static_cast<__mmask8>(a.bits & b.bits)};
    }
    friend BATTEN_LANE_INLINE Mask operator|(Mask a, Mask b) {
      return {static_cast<__mmask8>(a.bits | b.bits)};
    }
    friend BATTEN_LANE_INLINE Mask operator!(Mask a) {
      return {static_cast<__mmask8>(a.bits ^ 0xff)};
    }
  };
  __m512d x;
  static BATTEN_LANE_INLINE Pack8 all(double a) { return {_mm512_set1_pd(a)}; }
  static BATTEN_LANE_INLINE Mask less(Pack8 a, Pack8 b) {
    return {_mm512_cmp_pd_mask(a.x, b.x, _CMP_LT_OQ)};
  }
  static BATTEN_LANE_INLINE Mask at_most(Pack8 a, Pack8 b) {
    return {_mm512_cmp_pd_mask(a.x, b.x, _CMP_LE_OQ)};
  }
  static BATTEN_LANE_INLINE Pack8 select(Mask m, Pack8 a, Pack8 b) {
    return {_mm512_mask_blend_pd(m.bits, b.x, a.x)};
  }
  static BATTEN_LANE_INLINE Pack8 root(Pack8 a) { return {_mm512_maskz_sqrt_pd(0xff, a.x)}; }
  BATTEN_LANE_INLINE double lane(int i) const { return x[i]; }
  BATTEN_LANE_INLINE void set(int i, double value) { x[i] = value; }
  BATTEN_LANE_INLINE Pack8 operator-() const { return {-x}; }
  friend BATTEN_LANE_INLINE Pack8 operator+(Pack8 a, Pack8 b) { return {a.x + b.x}; }
  friend BATTEN_LANE_INLINE Pack8 operator-(Pack8 a, Pack8 b) { return {a.x - b.x}; }
  friend BATTEN_LANE_INLINE Pack8 operator*(Pack8 a, Pack8 b) { return {a.x * b.x}; }
  friend BATTEN_LANE_INLINE Pack8 operator/(Pack8 a, Pack8 b) { return {a.x / b.x}; }
};
#endif

template <class Half>
struct Two {
  static constexpr int width = 2 * Half::width;
  struct Mask {
    typename Half::Mask low, high;
    BATTEN_LANE_INLINE bool lane(int i) const {
      return i < Half::width ? low.lane(i) : high.lane(i - Half::width);
    }
    BATTEN_LANE_INLINE bool any() const { return (low | high).any(); }
    friend BATTEN_LANE_INLINE Mask operator&(Mask a, Mask b) {
      return {a.low & b.low, a.high & b.high};
    }
    friend BATTEN_LANE_INLINE Mask operator|(Mask a, Mask b) {
      return {a.low | b.low, a.high | b.high};
    }
    friend BATTEN_LANE_INLINE Mask operator!(Mask a) { return {!a.low, !a.high}; }
  };
  Half low, high;
  static BATTEN_LANE_INLINE Two all(double a) { return {Half::all(a), Half::all(a)}; }
  static BATTEN_LANE_INLINE Mask less(Two a, Two b) {
    return {Half::less(a.low, b.low), Half::less(a.high, b.high)};
  }
  static BATTEN_LANE_INLINE Mask at_most(Two a, Two b) {
    return {Half::at_most(a.low, b.low), Half::at_most(a.high, b.high)};
  }
  static BATTEN_LANE_INLINE Two select(Mask m, Two a, Two b) {
    return {Half::select(m.low, a.low, b.low), Half::select(m.high, a.high, b.high)};
  }
  static BATTEN_LANE_INLINE Two root(Two a) { return {Half::root(a.low), Half::root(a.high)}; }
  BATTEN_LANE_INLINE double lane(int i) const {
    return i < Half::width ? low.lane(i) : high.lane(i - Half::width);
  }
  BATTEN_LANE_INLINE void set(int i, double value) {
    if (i < Half::width) {
      low.set(i, value);
    } else {
      high.set(i - Half::width, value);
    }
  }
  BATTEN_LANE_INLINE Two operator-() const { return {-low, -high}; }
  friend BATTEN_LANE_INLINE Two operator+(Two a, Two b) { return {a.low + b.low, a.high + b.high}; }
  friend BATTEN_LANE_INLINE Two operator-(Two a, Two b) { return {a.low - b.low, a.high - b.high}; }
  friend BATTEN_LANE_INLINE Two operator*(Two a, Two b) { return {a.low * b.low, a.high * b.high}; }
  friend BATTEN_LANE_INLINE Two operator/(Two a, Two b) { return {a.low / b.low, a.high / b.high}; }
};

// Only the sets the including source is compiled for exist.
template <Isa isa>
struct EightOf;
template <>
struct EightOf<Isa::base> {
  using Pack = Two<Two<Pack2>>;
};
#if defined(__AVX2__)
template <>
struct EightOf<Isa::avx2> {
  using Pack = Two<Pack4>;
};
#endif
#if defined(__AVX512F__)
template <>
struct EightOf<Isa::avx512> {
  using Pack = Pack8;
};
#endif
template <Isa isa>
using Eight = typename EightOf<isa>::Pack;

}  // namespace detail
}  // namespace batten::mechanism
