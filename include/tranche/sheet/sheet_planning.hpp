// How far the planning of a cut sheet may go, and who is told what it is at.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <functional>
#include <string>

#include <tranche/optimise/engine/search_limits.hpp>

namespace tranche {

/// What a long job is at: "planning loin A", the third of seven steps.
struct sheet_progress {
    std::string doing{};
    std::size_t step = 0, steps = 0; ///< from 1; all of them

    friend bool operator==(const sheet_progress&, const sheet_progress&) = default;
};

/// How far the planning of a sheet may go, and who is told of it.
struct sheet_planning {
    search_limits search{}; ///< of each search for a plan; once stopped, what is left is left out
    bool what_ifs = true;   ///< look for what would help and what limits cost
    std::function<void(const sheet_progress&)> progress{}; ///< before each step, in the thread of the caller
};

} // namespace tranche
