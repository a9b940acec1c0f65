// The random numbers of several successive replicates at once, as each has them alone.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>

#include <tranche/study/random/detail/philox_columns.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// The streams of one purpose of `size()` successive replicates: `random_stream(seed, first + j, purpose)` for j from 0 on. Numbers come
/// in columns, a draw of all replicates side by side: draw d of replicate j lies at d × `stride()` + j. They are those that each stream
/// gives alone, to the bit, and take a third of the time or so: processors do several streams in step.
class random_streams {
public:
    /// Any numbers; of no replicates too.
    constexpr random_streams(std::uint64_t seed, std::uint64_t first, std::size_t count,
                             std::uint32_t purpose = 0) noexcept
        : rows_{seed, first, purpose, count} {}

    /// Replicates.
    [[nodiscard]] constexpr std::size_t size() const noexcept { return rows_.count; }
    /// How far columns lie apart: `size()`, rounded up to a multiple of 8. What lies between holds numbers without a meaning.
    [[nodiscard]] constexpr std::size_t stride() const noexcept { return rows_.stride(); }

    /// The first `draws` draws of each stream, as `random_stream::next_uniform` gives them one by one. Above 0 and below 1. Throws
    /// `invalid_input` unless `columns` has `draws` × `stride()` numbers. O(draws × size).
    void uniforms(std::size_t draws, std::span<double> columns) const {
        if (columns.size() != draws * stride()) refuse_size(draws, columns.size());
        if (!columns.empty()) detail::draw_columns(rows_, draws, columns.data());
    }

private:
    [[noreturn]] TRANCHE_COLD void refuse_size(std::size_t draws, std::size_t size_of_columns) const {
        throw invalid_input("columns", std::to_string(size_of_columns) + " numbers",
                            std::to_string(draws) + " columns of " + std::to_string(stride()));
    }

    detail::stream_rows rows_;
};

} // namespace tranche
