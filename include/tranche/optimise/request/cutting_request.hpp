// All that is asked of a loin, in one piece: the cuts, what holds for the whole of it, and how many of what.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/optimise/request/demand.hpp>

namespace tranche {

/// All that is asked of a loin. `{steak}` asks for one cut, `{{steak, fillet}, rules}` for two under rules.
struct cutting_request {
    cut_list cuts{};
    cutting_rules rules{};
    std::vector<demand> demands{};

    friend bool operator==(const cutting_request&, const cutting_request&) = default;
};

} // namespace tranche
