// Sobol' points, evenly spread over the unit cube, scrambled so that their error can be estimated.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include <boost/random/sobol.hpp>

#include <tranche/study/random/philox.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

namespace detail {

/// Bits from the last to the first.
[[nodiscard]] constexpr std::uint32_t reversed_bits(std::uint32_t x) {
    x = (x >> 1U & 0x55555555U) | (x & 0x55555555U) << 1U;
    x = (x >> 2U & 0x33333333U) | (x & 0x33333333U) << 2U;
    x = (x >> 4U & 0x0F0F0F0FU) | (x & 0x0F0F0F0FU) << 4U;
    x = (x >> 8U & 0x00FF00FFU) | (x & 0x00FF00FFU) << 8U;
    return x >> 16U | x << 16U;
}

/// Changes each bit by what a hash makes of the bits below it, which is Owen's scrambling of the number with its bits reversed. After
/// Laine and Karras (2011), with the constants of Burley, "Practical hash-based Owen scrambling", JCGT 9 (2020) 1-20 (from memory),
/// in two rounds with a seed each.
[[nodiscard]] constexpr std::uint32_t scrambled_upwards(std::uint32_t x, std::uint32_t seed, std::uint32_t another) {
    x += seed;
    x ^= x * 0x6c50b47cU;
    x ^= x * 0xb82f1e52U;
    x ^= x * 0xc7afe638U;
    x ^= x * 0x8d22f6e6U;
    x *= another | 1U;
    x += another;
    x ^= x * 0x6c50b47cU;
    x ^= x * 0xb82f1e52U;
    x ^= x * 0xc7afe638U;
    x ^= x * 0x8d22f6e6U;
    return x;
}

} // namespace detail

/// A net of Sobol' points in (0, 1)^d, the origin included, scrambled one way for each `randomisation`: each point alone is uniform
/// in the cube, and all together stay a net. Of a smooth function the mean over n points, n a power of two, errs by about n^-1 and
/// better; how much, is said by the spread of the means over at least 16 randomisations, which are independent.
///
/// Direction numbers are those of Boost.Random (Joe and Kuo), up to 3667 dimensions; its engine leaves out the origin, which is put
/// back here, since a net without it is none (Owen, "On dropping the first Sobol' point", 2020). Integers only: the same bits
/// everywhere. A const object is safe to share between threads.
class sobol_points {
public:
    /// Direction numbers cost Boost.Random some microseconds a dimension: for further randomisations use `randomised`. Throws
    /// `invalid_input` unless there are 1 to 3667 dimensions.
    sobol_points(std::size_t dimensions, std::uint64_t randomisation) : dimensions_(dimensions) {
        constexpr std::size_t most = boost::random::default_sobol_table::max_dimension;
        if (dimensions < 1 || dimensions > most)
            throw invalid_input("dimensions", std::to_string(dimensions), "1 to " + std::to_string(most));
        directions_.resize(dimensions * 32);
        boost::random::sobol_engine<std::uint32_t, 32> engine(dimensions);
        for (std::uint32_t bit = 0; bit < 32; ++bit) {
            // The engine goes by Gray code and begins at 1: at 2^(bit+1) - 2 it has this direction number alone.
            engine.seed(static_cast<std::uint32_t>((std::uint64_t{2} << bit) - 2));
            for (std::size_t d = 0; d < dimensions; ++d) directions_[d * 32 + bit] = detail::reversed_bits(engine());
        }
        randomise(randomisation);
    }

    /// The same net, scrambled another way. O(d). Any number; throws nothing but for lack of memory.
    [[nodiscard]] sobol_points randomised(std::uint64_t randomisation) const {
        sobol_points other = *this;
        other.randomise(randomisation);
        return other;
    }

    /// 1 to 3667. Throws nothing.
    [[nodiscard]] std::size_t dimensions() const { return dimensions_; }

    /// Point `index`, each coordinate (k + 1/2) 2^-32, so never 0 and never 1. Throws `invalid_input` unless `out` has one place a
    /// dimension. O(d × ones of the index).
    void point(std::uint32_t index, std::span<double> out) const {
        if (out.size() != dimensions_)
            throw invalid_input("out", std::to_string(out.size()) + " places", std::to_string(dimensions_));
        for (std::size_t d = 0; d < dimensions_; ++d) {
            const std::uint32_t* const direction = directions_.data() + d * 32;
            std::uint32_t x = 0;
            for (std::uint32_t left = index; left != 0; left &= left - 1)
                x ^= direction[std::countr_zero(left)]; // NOLINT: a loop over ones of an index
            out[d] = place(x, d);
        }
    }

    /// Calls visit(index) with each point below `count`, a power of two, in `out`. By Gray's code, 0, 1, 3, 2, 6, ..., in which a point
    /// follows from the one before by one direction number, so it takes a third of the time of asking for each. Throws `invalid_input`
    /// for another count and unless `out` has one place a dimension. O(count × d).
    template <class Visit>
    void each_point(std::uint32_t count, std::span<double> out, const Visit& visit) const {
        if (!std::has_single_bit(count)) throw invalid_input("count", std::to_string(count), "a power of two");
        if (out.size() != dimensions_)
            throw invalid_input("out", std::to_string(out.size()) + " places", std::to_string(dimensions_));
        std::vector<std::uint32_t> bits(dimensions_);
        for (std::uint32_t k = 0; k < count; ++k) {
            const auto turned = static_cast<std::size_t>(k > 0 ? std::countr_zero(k) : 0);
            for (std::size_t d = 0; d < dimensions_; ++d) {
                if (k > 0) bits[d] ^= directions_[d * 32 + turned];
                out[d] = place(bits[d], d);
            }
            visit(k ^ k >> 1U);
        }
    }

private:
    /// Coordinate d, of bits from the last to the first.
    [[nodiscard]] double place(std::uint32_t bits, std::size_t d) const {
        const std::uint32_t x =
            detail::reversed_bits(detail::scrambled_upwards(bits, seeds_[2 * d], seeds_[2 * d + 1]));
        return (static_cast<double>(x) + 0.5) * 0x1p-32;
    }
    void randomise(std::uint64_t randomisation) {
        seeds_.resize(2 * dimensions_);
        for (std::size_t d = 0; d < dimensions_; ++d) {
            const philox_counter words = philox_words(
                {static_cast<std::uint32_t>(d), 0, 0, 0x736F626FU}, // a counter that no random_stream reaches soon
                {static_cast<std::uint32_t>(randomisation), static_cast<std::uint32_t>(randomisation >> 32U)});
            seeds_[2 * d] = words[0];
            seeds_[2 * d + 1] = words[1];
        }
    }

    std::size_t dimensions_;
    std::vector<std::uint32_t> directions_{}; // 32 a dimension, bits reversed
    std::vector<std::uint32_t> seeds_{};      // two a dimension
};

} // namespace tranche
