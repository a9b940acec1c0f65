// How far planning an order may go, who may stop it, and who is told of its progress.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <vector>

#include <tranche/optimise/engine/search_limits.hpp>

namespace tranche {

/// What is known so far: values in billionths of the currency, as in an `order_plan`.
struct order_progress {
    std::int64_t value =
        std::numeric_limits<std::int64_t>::min(); ///< of the best plan; the least number while there is none
    std::int64_t bound =
        std::numeric_limits<std::int64_t>::max(); ///< what no plan exceeds; the largest while there is none
    std::size_t loin_plans = 0;                   ///< plans of single loins that were made
};

/// How far planning an order may go. All but `stop` count work and not time, so the same order has the same answer everywhere,
/// whatever the number of threads.
struct order_limits {
    std::size_t threads = 1;       ///< that plan loins side by side; 0 for as many as the machine runs at once
    double relative_gap = 0.0;     ///< (bound − value) / |value| that is good enough
    double price_tolerance = 2e-5; ///< of the bound: when to stop looking for prices; of up to 100 loins it is 1e-9
    std::size_t most_passes = 400; ///< over all loins, to look for prices
    /// Of single loins, all of them together; the search for prices comes first. An answer needs at least one pass.
    std::size_t most_loin_plans = std::numeric_limits<std::size_t>::max();
    std::size_t most_exchanges = std::size_t{1} << 22U; ///< of plans of loins that are tried, two at a time
    std::size_t most_labels = std::size_t{1}
                              << 21U; ///< of the proof of small orders: sums of portions that are told apart
    /// Asked once a pass over the loins, and every few milliseconds of exchanges and of the proof.
    stop_signal stop{};
    std::function<void(const order_progress&)> progress{}; ///< told after each pass, in the thread that planned
    /// By line, where the search for prices starts: those of an earlier plan of much the same order (`order_plan::line_prices`), which
    /// takes fewer passes. Any are as good for the bound, which is computed anew. Lines behind the last of them start as
    /// without; what is beyond the lines counts for nothing. In billionths of the currency.
    std::vector<std::int64_t> first_prices{};
};

} // namespace tranche
