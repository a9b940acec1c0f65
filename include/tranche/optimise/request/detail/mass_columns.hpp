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
    /// Becomes another one, in the room that there is.
    void restart(const profile& meat, std::size_t options, std::shared_ptr<const mass_columns> known) {
        meat_ = &meat;
        known_ = std::move(known);
        tables_.restart(meat, options, known_ ? &known_->tables_ : nullptr);
        backs_.reserve(options);
        made_ = 0;
    }

    void let_known_go() { known_.reset(); } ///< until it is restarted nothing is asked of it

    struct of_option {
        const std::int64_t *front, *back; ///< the same where there is no kerf
    };
    /// For one more option.
    [[nodiscard]] of_option add(const trim_spec& trim, length kerf) {
        const yield_table* const table = tables_.of(trim);
        const std::int64_t* const front = table->kept().data();
        if (!(kerf > length{})) return {front, front};
        if (const std::int64_t* const known = masses_known(table, kerf)) return {front, known};
        if (made_ == backs_.size()) backs_.emplace_back();
        in_front_of_kerf& back = backs_[made_++];
        back.table = table;
        back.kerf = kerf;
        write_masses(back);
        return {front, back.masses.data()};
    }

    [[nodiscard]] const yield_tables& tables() const { return tables_; }

private:
    struct in_front_of_kerf {
        const yield_table* table = nullptr;
        length kerf{};
        std::vector<std::int64_t> masses;
    };

    [[nodiscard]] const std::int64_t* masses_known(const yield_table* table, length kerf) const {
        for (std::size_t k = 0; k < made_; ++k)
            if (backs_[k].table == table && backs_[k].kerf == kerf) return backs_[k].masses.data();
        return known_ ? known_->masses_known(table, kerf) : nullptr;
    }
    void write_masses(in_front_of_kerf& back) const {
        const std::size_t cells = meat_->cells();
        back.masses.resize(cells + 1);
        back.masses[0] = 0;
        for (std::size_t j = 1; j < cells; ++j)
            back.masses[j] = back.table->kept_before(profile_place::of(*meat_, meat_->position(j) - back.kerf));
        back.masses[cells] = back.table->kept().back();
    }

    const profile* meat_;
    std::shared_ptr<const mass_columns> known_;
    yield_tables tables_;
    std::vector<in_front_of_kerf> backs_; ///< of these the first so many are in use
    std::size_t made_ = 0;
};

} // namespace tranche::detail
