// Cumulative masses of a loin as the options of a problem weigh it: one table a trim, however many options share it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <utility>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Hands out columns of micrograms by position, which stay where they are. The profile must outlive them.
class mass_columns {
public:
    /// `known` are those of another problem of the same profile, or none.
    mass_columns(const profile& meat, std::size_t options, std::shared_ptr<const mass_columns> known)
        : meat_(&meat), known_(std::move(known)), tables_(meat, options, known_ ? &known_->tables_ : nullptr) {
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
        if (const std::int64_t* const known = masses_known(table, kerf)) return {front, known};
        return {front, backs_.emplace_back(in_front_of_kerf{table, kerf, masses_in_front(*table, kerf)}).masses.data()};
    }

    [[nodiscard]] const yield_tables& tables() const { return tables_; }

private:
    struct in_front_of_kerf {
        const yield_table* table;
        length kerf;
        std::vector<std::int64_t> masses;
    };

    [[nodiscard]] const std::int64_t* masses_known(const yield_table* table, length kerf) const {
        for (const in_front_of_kerf& b : backs_)
            if (b.table == table && b.kerf == kerf) return b.masses.data();
        return known_ ? known_->masses_known(table, kerf) : nullptr;
    }
    [[nodiscard]] std::vector<std::int64_t> masses_in_front(const yield_table& table, length kerf) const {
        const std::size_t cells = meat_->cells();
        std::vector<std::int64_t> masses(cells + 1);
        for (std::size_t j = 1; j < cells; ++j)
            masses[j] = table.kept_before(profile_place::of(*meat_, meat_->position(j) - kerf));
        masses[cells] = table.kept().back();
        return masses;
    }

    const profile* meat_;
    std::shared_ptr<const mass_columns> known_;
    yield_tables tables_;
    std::vector<in_front_of_kerf> backs_;
};

} // namespace tranche::detail
