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
    mass_columns(const profile& meat, std::size_t options) : meat_(&meat), tables_(meat, options) {
        backs_.reserve(options); // nothing moves once it is handed out
    }

    struct of_option {
        const std::int64_t *front, *back; ///< the same where there is no kerf
    };
    /// For one more option.
    [[nodiscard]] of_option add(const trim_spec& trim, length kerf) {
        const yield_table* const table = tables_.of(trim);
        const std::int64_t* const front = table->kept().data();
        if (!(kerf > length{})) return {front, front};
        auto back = std::find_if(backs_.begin(), backs_.end(),
                                 [&](const in_front_of_kerf& b) { return b.table == table && b.kerf == kerf; });
        if (back == backs_.end()) back = backs_.insert(back, {table, kerf, masses_in_front(*table, kerf)});
        return {front, back->masses.data()};
    }

    [[nodiscard]] const yield_tables& tables() const { return tables_; }

private:
    struct in_front_of_kerf {
        const yield_table* table;
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
    yield_tables tables_;
    std::vector<in_front_of_kerf> backs_;
};

} // namespace tranche::detail
