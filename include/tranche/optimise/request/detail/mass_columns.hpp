// Cumulative masses of a loin as the options of a problem weigh it: one table a trim, however many options share it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Hands out columns of micrograms by position, which stay where they are. The profile must outlive them.
class mass_columns {
public:
    mass_columns(const profile& meat, std::size_t options) : meat_(&meat) { // nothing moves once it is handed out
        tables_.reserve(options);
        trims_.reserve(options);
        backs_.reserve(options);
    }

    struct of_option {
        const std::int64_t *front, *back; ///< the same where there is no kerf
    };
    /// For one more option.
    [[nodiscard]] of_option add(const trim_spec& trim, length kerf) {
        const auto table = static_cast<std::size_t>(std::find(trims_.begin(), trims_.end(), trim) - trims_.begin());
        if (table == trims_.size()) {
            trims_.push_back(trim);
            tables_.emplace_back(*meat_, trim);
        }
        const std::int64_t* const front = tables_[table].kept().data();
        if (!(kerf > length{})) return {front, front};
        auto back = std::find_if(backs_.begin(), backs_.end(),
                                 [&](const in_front_of_kerf& b) { return b.table == table && b.kerf == kerf; });
        if (back == backs_.end()) back = backs_.insert(back, {table, kerf, masses_in_front(tables_[table], kerf)});
        return {front, back->masses.data()};
    }

private:
    struct in_front_of_kerf {
        std::size_t table;
        length kerf;
        std::vector<std::int64_t> masses;
    };

    [[nodiscard]] std::vector<std::int64_t> masses_in_front(const yield_table& table, length kerf) const {
        const std::size_t cells = meat_->cells();
        std::vector<std::int64_t> masses(cells + 1);
        for (std::size_t j = 1; j < cells; ++j)
            masses[j] = table.kept_before(profile_place::of(*meat_, meat_->position(j) - kerf));
        masses[cells] = table.kept().back();
        return masses;
    }

    const profile* meat_;
    std::vector<trim_spec> trims_;
    std::vector<yield_table> tables_; ///< one a trim
    std::vector<in_front_of_kerf> backs_;
};

} // namespace tranche::detail
