// The random numbers of one replicate and one purpose: the same whoever draws them, wherever and in whatever order.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

#include <tranche/study/random/philox.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// One stream for each seed, replicate and purpose; different ones are independent. A study that gives the loin, the knife and the
/// demand a purpose each keeps its loins when it draws more of the knife: common random numbers for comparisons.
///
/// Block b of the stream is Philox4x32-10 of the counter (b, purpose, replicate low, replicate high) and the key (seed low, seed
/// high); a block gives two draws, words 0 and 1 and then words 2 and 3, the first word being the low half. A stream has 2^33
/// draws. Integers only, so all compilers and machines draw the same bits. 40 bytes, copied as a value.
class random_stream {
public:
    /// Any numbers: the stream of that seed, replicate and purpose, from its first draw on.
    explicit constexpr random_stream(std::uint64_t seed, std::uint64_t replicate = 0,
                                     std::uint32_t purpose = 0) noexcept
        : counter_{0, purpose, static_cast<std::uint32_t>(replicate), static_cast<std::uint32_t>(replicate >> 32U)},
          key_{static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32U)} {}

    /// The next 64 random bits. Throws `invalid_input` where all 2^33 draws were taken. O(1).
    [[nodiscard]] constexpr std::uint64_t next_bits() {
        if (half_) {
            half_ = false;
            return joined(block_[2], block_[3]);
        }
        block_ = next_block();
        half_ = true;
        return joined(block_[0], block_[1]);
    }

    /// The next number of the open interval 0 to 1: (k + 1/2) 2^-52 of the upper 52 bits k, exact, so never 0 and never 1, and
    /// u is as likely as 1 - u. (With 53 bits the half would be rounded, at the top to 1.) Throws as `next_bits` does. O(1).
    [[nodiscard]] constexpr double next_uniform() { return uniform_of(next_bits()); }

    /// The next numbers into all of `out`, as `next_uniform` gives them one by one, in half the time. Throws as that does. O(n).
    constexpr void next_uniforms(std::span<double> out) {
        std::size_t i = 0;
        if (half_ && !out.empty()) out[i++] = next_uniform();
        for (; i + 1 < out.size(); i += 2) {
            const philox_counter block = next_block();
            out[i] = uniform_of(joined(block[0], block[1]));
            out[i + 1] = uniform_of(joined(block[2], block[3]));
        }
        if (i < out.size()) out[i] = next_uniform();
    }

private:
    [[nodiscard]] static constexpr double uniform_of(std::uint64_t bits) {
        return (static_cast<double>(bits >> 12U) + 0.5) * 0x1p-52;
    }
    [[nodiscard]] constexpr philox_counter next_block() {
        if (spent_) refuse_draw();
        const philox_counter block = philox_words(counter_, key_);
        spent_ = ++counter_[0] == 0;
        return block;
    }
    [[noreturn]] TRANCHE_COLD static void refuse_draw() {
        throw invalid_input("random_stream", "more than 2^33 draws", "another purpose for some of them");
    }
    [[nodiscard]] static constexpr std::uint64_t joined(std::uint32_t low, std::uint32_t high) {
        return std::uint64_t{high} << 32U | low;
    }

    philox_counter counter_, block_{};
    philox_key key_;
    bool half_ = false, spent_ = false;
};

} // namespace tranche
