// The same block of many streams at once: uniform numbers of successive replicates, several in step where the processor can.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>

#include <tranche/study/random/philox.hpp>
#include <tranche/study/random/random_stream.hpp>
#include <tranche/units/detail/config.hpp>

namespace tranche::detail {

/// Columns are as long as a multiple of this: what is beyond the replicates asked for is drawn too.
inline constexpr std::size_t replicates_in_step = 8;

/// The streams of `count` successive replicates, as `random_stream` numbers them.
struct stream_rows {
    std::uint64_t seed = 0, first = 0;
    std::uint32_t purpose = 0;
    std::size_t count = 0;

    [[nodiscard]] constexpr std::size_t stride() const {
        return (count + replicates_in_step - 1) / replicates_in_step * replicates_in_step;
    }
};

/// The first `draws` uniform numbers of each: number d of row j to `out[d * stride() + j]`. One stream after the other.
inline void draw_columns_plainly(const stream_rows& rows, std::size_t draws, double* out) {
    for (std::size_t j = 0; j < rows.count; ++j) {
        random_stream stream(rows.seed, rows.first + j, rows.purpose);
        for (std::size_t d = 0; d < draws; ++d) out[d * rows.stride() + j] = stream.next_uniform();
    }
}

#if TRANCHE_HAS_WIDE_COLUMNS

// A word of 32 bits in each 64 bits. What is above it is left as it comes, for multiplications do not look at it.
using four_words = std::uint64_t __attribute__((vector_size(32)));
using four_doubles = double __attribute__((vector_size(32)));

/// The products of the low halves.
[[gnu::target("avx2"), gnu::always_inline]] inline four_words product_of_words(four_words a, four_words b) {
#ifdef __clang__
    const four_words low = four_words{} + std::uint64_t{0xFFFFFFFFU};
    return (a & low) * (b & low); // known to clang as one instruction, and not to g++
#else
    using eight_ints = int __attribute__((vector_size(32)));
    return reinterpret_cast<four_words>(
        __builtin_ia32_pmuludq256(reinterpret_cast<eight_ints>(a), reinterpret_cast<eight_ints>(b)));
#endif
}

/// What `random_stream::next_uniform` makes of words `low` and `high`: the upper 52 bits behind the point of 1.0, less 1 - 2^-53, which
/// is exact.
[[gnu::target("avx2"), gnu::always_inline]] inline void store_uniforms(four_words low, four_words high, double* out) {
    const four_words bits = low << 32U >> 44U | high << 32U >> 12U | std::uint64_t{0x3FF0000000000000U};
    const four_doubles uniforms = reinterpret_cast<four_doubles>(bits) - (1.0 - 0x1p-53);
    std::memcpy(out, &uniforms, sizeof uniforms);
}

/// Block `block` of each stream: its first number to `out`, its other one to `other` if that is not null. Rounds of `philox_words`, for
/// eight counters in step, so that none waits for a product.
[[gnu::target("avx2")]] inline void draw_block_in_step(const stream_rows& rows,
                                                       const std::array<std::uint64_t, 20>& keys, std::uint32_t block,
                                                       double* out, double* other) {
    const four_words first_factor = four_words{} + std::uint64_t{0xD2511F53U},
                     third_factor = four_words{} + std::uint64_t{0xCD9E8D57U};
    for (std::size_t i = 0; i < rows.count; i += replicates_in_step) {
        four_words a2 = four_words{0, 1, 2, 3} + (rows.first + i), b2 = a2 + std::uint64_t{4};
        four_words a3 = a2 >> 32U, b3 = b2 >> 32U;
        four_words a0 = four_words{} + std::uint64_t{block}, b0 = a0;
        four_words a1 = four_words{} + std::uint64_t{rows.purpose}, b1 = a1;
        for (std::size_t round = 0; round < 20; round += 2) {
            const four_words a_first = product_of_words(a0, first_factor), b_first = product_of_words(b0, first_factor);
            const four_words a_third = product_of_words(a2, third_factor), b_third = product_of_words(b2, third_factor);
            a0 = (a_third >> 32U) ^ (a1 ^ keys[round]);
            b0 = (b_third >> 32U) ^ (b1 ^ keys[round]);
            a2 = (a_first >> 32U) ^ (a3 ^ keys[round + 1]);
            b2 = (b_first >> 32U) ^ (b3 ^ keys[round + 1]);
            a1 = a_third;
            b1 = b_third;
            a3 = a_first;
            b3 = b_first;
        }
        store_uniforms(a0, a1, out + i);
        store_uniforms(b0, b1, out + i + 4);
        if (other == nullptr) continue;
        store_uniforms(a2, a3, other + i);
        store_uniforms(b2, b3, other + i + 4);
    }
}

/// As `draw_columns_plainly`, and what lies between `count` and `stride()` as well.
inline void draw_columns_in_step(const stream_rows& rows, std::size_t draws, double* out) {
    std::array<std::uint64_t, 20> keys{};
    philox_key key{static_cast<std::uint32_t>(rows.seed), static_cast<std::uint32_t>(rows.seed >> 32U)};
    for (std::size_t round = 0; round < 20; round += 2) {
        keys[round] = key[0];
        keys[round + 1] = key[1];
        key = {key[0] + 0x9E3779B9U, key[1] + 0xBB67AE85U};
    }
    const std::size_t stride = rows.stride();
    for (std::size_t d = 0; d < draws; d += 2)
        draw_block_in_step(rows, keys, static_cast<std::uint32_t>(d / 2), out + d * stride,
                           d + 1 < draws ? out + (d + 1) * stride : nullptr);
}

/// Whether this processor, and its system, know AVX2.
[[nodiscard]] inline bool runs_in_step() {
    __builtin_cpu_init(); // before `main` it may not have been done
    return __builtin_cpu_supports("avx2") != 0;
}

#endif

/// The first `draws` uniform numbers of each stream, whichever way is the faster here: the bits are the same. Room for `draws` × `stride()`.
inline void draw_columns(const stream_rows& rows, std::size_t draws, double* out) {
#if TRANCHE_HAS_WIDE_COLUMNS
    if (runs_in_step()) return draw_columns_in_step(rows, draws, out);
#endif
    draw_columns_plainly(rows, draws, out);
}

} // namespace tranche::detail
