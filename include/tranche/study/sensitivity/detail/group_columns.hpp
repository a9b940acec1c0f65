// Groups of inputs as columns of a sampling plan: which input belongs to which group, checked.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/sensitivity/sensitivity_options.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

struct input_column {
    std::string name{};
    std::vector<std::size_t> inputs{}; ///< places in the study's inputs, rising
};

/// The groups, then the inputs alone, in the order of their first inputs. Throws `invalid_input` for a group without a name or
/// inputs, an input that is unknown or in two groups, a name that stands twice, and correlated inputs in different columns: what a
/// variance is due to has no answer then.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<input_column> grouped_columns(const study_inputs& inputs,
                                                                     const std::vector<input_group>& groups) {
    std::vector<std::size_t> column_of(inputs.size(), groups.size());
    std::vector<input_column> columns;
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const std::string field = "groups[" + std::to_string(g) + ']';
        if (groups[g].name.empty()) throw invalid_input(field + ".name", "nothing", "a name");
        if (groups[g].inputs.empty()) throw invalid_input(field + ".inputs", "none", "at least one");
        input_column made{groups[g].name, {}};
        for (const std::string& name : groups[g].inputs) {
            const std::size_t i = inputs.place_of(name);
            if (column_of[i] != groups.size())
                throw invalid_input(field + ".inputs", name, "an input that is in no group yet");
            column_of[i] = g;
            made.inputs.push_back(i);
        }
        std::sort(made.inputs.begin(), made.inputs.end());
        columns.push_back(made);
    }
    for (std::size_t i = 0; i < inputs.size(); ++i)
        if (column_of[i] == groups.size()) columns.push_back({inputs[i].name, {i}});
    std::sort(columns.begin(), columns.end(),
              [](const input_column& a, const input_column& b) { return a.inputs.front() < b.inputs.front(); });
    for (std::size_t c = 0; c < columns.size(); ++c) {
        for (std::size_t b = 0; b < c; ++b) {
            if (columns[b].name == columns[c].name)
                throw invalid_input("groups", columns[c].name, "a name that no other group or input has");
            for (const std::size_t i : columns[b].inputs)
                for (const std::size_t j : columns[c].inputs)
                    if (inputs.correlated(i, j))
                        throw invalid_input("inputs", inputs[i].name + " and " + inputs[j].name + " correlated",
                                            "independent inputs, or correlated ones together in a group");
        }
    }
    return columns;
}

} // namespace tranche::detail
