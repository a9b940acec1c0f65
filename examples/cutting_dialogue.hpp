// The dialogue beside the board: readings in, cuts and advice out, one line each.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstddef>
#include <functional>
#include <istream>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/tranche.hpp>

namespace example {

inline constexpr const char* what_a_line_may_be =
    R"(  WEIGHT              of the slab as it comes off the knife: 11 1/4 oz, 320 g; a number by itself is in oz (or g)
  WEIGHT, THICKNESS   and how thick it came out: 320 g, 31 mm
  rest WEIGHT         of all that is left on the board; helps most before the last two or three cuts
  yes                 takes a reading that was asked back
  trim, halve, leave, loose, as CUT
                      what became of the last slab, if not what was advised
  undo                takes the last reading back, at the end too
  plan                the cuts that are planned for the rest
  end                 closes the account; end WEIGHT if what is left was weighed
  quit                stops here, to be gone on with another time
  help                this list
)";

/// How a session at the board was left.
enum class board_end { closed, left };

/// The dialogue about one loin.
template <class Session>
class cutting_dialogue {
public:
    using decisions = std::vector<std::optional<tranche::slab_use>>;

    /// `keep` is called after each line that changes the session.
    cutting_dialogue(Session& session, const tranche::kitchen_units& units, std::ostream& out,
                     std::function<void(const Session&)> keep)
        : session_(session), units_(units), out_(out), keep_(std::move(keep)) {}

    board_end run(std::istream& in) {
        std::string line;
        say_next();
        while (std::getline(in, line)) {
            const std::string entry = words_of(line);
            if (entry.empty()) continue;
            if (entry == "end" || entry == "quit") return entry == "end" ? board_end::closed : board_end::left;
            try {
                if (!take(entry)) return board_end::closed;
            } catch (const tranche::invalid_input& error) {
                doubtful_.reset();
                refused_ = true;
                out_ << "  not taken: "
                     << tranche::detail::printable(error.field() + ": got " + in_units(error.value_words(), units_) +
                                                   ", expected " + in_units(error.expected_words(), units_))
                     << '\n';
            }
        }
        return board_end::closed;
    }

    /// Whether a line was not taken.
    [[nodiscard]] bool refused() const { return refused_ || doubtful_.has_value(); }
    [[nodiscard]] const std::optional<tranche::mass>& rest() const { return rest_; }
    /// What became of each slab: what was said of it, or else advised.
    [[nodiscard]] std::vector<tranche::slab_use> uses() const {
        std::vector<tranche::slab_use> uses;
        for (std::size_t i = 0; i < session_.slabs().size(); ++i) {
            const auto could = session_.uses_of(session_.slabs()[i]);
            const bool said = i < said_.size() && said_[i];
            uses.push_back(said ? *said_[i] : could.empty() ? tranche::slab_use{} : could.front());
        }
        return uses;
    }

private:
    struct reading {
        bool rest = false;
        tranche::slab_reading slab{};
    };

    /// Without remark and blanks at the ends; commands in small letters.
    [[nodiscard]] static std::string words_of(std::string_view line) {
        std::string text(line.substr(0, line.find('#')));
        const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
        while (!text.empty() && blank(text.back())) text.pop_back();
        text.erase(text.begin(), std::find_if_not(text.begin(), text.end(), blank));
        for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        return text;
    }
    [[nodiscard]] static std::string behind(const std::string& text, std::size_t letters) {
        return words_of(std::string_view(text).substr(letters));
    }

    /// False once the account is to be closed.
    bool take(const std::string& entry) {
        if (entry == "yes") return confirm();
        doubtful_.reset();
        if (std::exchange(ending_, false)) rest_.reset();
        if (entry == "help") {
            out_ << what_a_line_may_be;
        } else if (entry == "plan") {
            say_plan();
        } else if (entry == "undo") {
            if (session_.undo()) {
                said_.resize(std::min(said_.size(), session_.slabs().size()));
                out_ << "  taken back\n";
                keep_(session_);
            } else {
                out_ << "  nothing to take back\n";
            }
            say_next();
        } else if (entry.starts_with("end ")) {
            const auto weight = weight_in(behind(entry, 4), "end");
            tranche::detail::require_not_negative(weight, "end");
            require_on_the_loin(weight, "end");
            rest_ = weight;
            if (weight >= 0.9 * to_mass(session_.rest())) return false;
            out_ << "  " << this->weight(to_mass(session_.rest()) - weight)
                 << " are missing from the loin then. Weigh again, or say yes if it is so.\n";
            ending_ = true;
        } else if (is_decision(entry)) {
            decide(entry);
        } else if (entry == "rest" || entry.starts_with("rest ")) {
            weigh({true, {.weight = weight_in(behind(entry, 4), "rest")}});
        } else {
            const auto comma = entry.find(',');
            reading r{false, {.weight = weight_in(entry.substr(0, comma), "weight")}};
            if (comma != std::string::npos) r.slab.thickness = length_in(behind(entry, comma + 1));
            weigh(r);
        }
        return true;
    }

    /// A number by itself is in the unit in which portions are written.
    [[nodiscard]] tranche::mass weight_in(const std::string& text, const char* field) const {
        return tranche::from_text<tranche::mass>(is_number(text) ? text + ' ' + tranche_unit(units_.portion) : text,
                                                 field);
    }
    [[nodiscard]] tranche::length length_in(const std::string& text) const {
        return tranche::from_text<tranche::length>(is_number(text) ? text + ' ' + tranche_unit(units_.thickness) : text,
                                                   "thickness");
    }
    template <class Division>
    [[nodiscard]] static std::string tranche_unit(Division how) {
        const std::string unit = tranche::detail::unit_name(how);
        return unit.empty() ? "oz" : unit;
    }
    [[nodiscard]] static bool is_number(const std::string& text) {
        return !text.empty() && text.find_first_not_of("0123456789./ ") == std::string::npos;
    }

    /// A reading that cannot be is refused by the session; one that can hardly be is asked back.
    void weigh(const reading& r) {
        require_on_the_loin(r.slab.weight, r.rest ? "rest" : "weight");
        if (const std::string doubt = doubt_about(r); !doubt.empty()) {
            out_ << "  " << doubt << " Weigh again, or say yes if it is so.\n";
            doubtful_ = r;
            return;
        }
        accept(r);
    }
    bool confirm() {
        if (ending_) return false;
        if (!doubtful_) {
            out_ << "  nothing was asked\n";
            return true;
        }
        const reading r = *doubtful_;
        doubtful_.reset();
        accept(r);
        return true;
    }
    void accept(const reading& r) {
        if (r.rest)
            session_.weigh_rest(r.slab.weight);
        else
            say_slab(session_.record(r.slab), true);
        said_.resize(session_.slabs().size());
        keep_(session_);
        say_estimate();
        say_next();
    }
    /// Nothing weighs more than what the slabs have left of the loin, and what scales may differ by.
    void require_on_the_loin(tranche::mass weight, const char* field) const {
        const tranche::mass left = to_mass(session_.rest());
        const tranche::mass more = 0.02 * to_mass(session_.whole()) + 4.0 * session_.estimate().spreads().scale;
        if (weight > left + more)
            throw tranche::invalid_input(field, tranche::detail::rounded_up(weight),
                                         tranche::sentence("no more than what is left of the loin, ") +
                                             tranche::detail::rounded_down(left));
    }
    /// Empty if there is none.
    [[nodiscard]] std::string doubt_about(const reading& r) const {
        if (r.rest || !session_.next() || !(r.slab.weight > tranche::mass{})) return {};
        tranche::mass expected = session_.next()->weight;
        if (r.slab.thickness) expected *= std::min<double>(*r.slab.thickness / session_.next()->thickness, 100.0);
        const double ratio = r.slab.weight / expected;
        if (session_.next()->kind != tranche::slab_kind::portions || (ratio > 0.45 && ratio < 2.2)) return {};
        const std::string far = weight(r.slab.weight) + " where about " + weight(expected) + " was to come";
        for (const double slip : {10.0, 100.0, 0.1, 0.01})
            if (std::abs(ratio * slip - 1.0) < 0.3)
                return far + ": a decimal point may be lost, and " + weight(slip * r.slab.weight) + " be meant.";
        return far + '.';
    }

    [[nodiscard]] bool is_decision(const std::string& entry) const {
        return entry == "trim" || entry == "halve" || entry == "leave" || entry == "loose" || entry.starts_with("as ");
    }
    void decide(const std::string& entry) {
        using use_of = tranche::slab_use::way;
        if (session_.slabs().empty() || session_.slabs().back().kind != tranche::slab_kind::portions)
            throw tranche::invalid_input("slab", '"' + entry + '"', "a slab of portions that was just weighed");
        const auto could = session_.uses_of(session_.slabs().back());
        std::string known;
        for (const tranche::slab_use& use : could) {
            const std::string word = word_of(use);
            if (word == entry || (use.becomes == use_of::as_it_is && entry == "leave")) {
                said_.resize(session_.slabs().size());
                said_.back() = use;
                out_ << "  noted: " << become(use) << '\n';
                say_next();
                return;
            }
            known += (known.empty() ? "" : ", ") + word;
        }
        throw tranche::invalid_input("slab", '"' + entry + '"', "one of " + known);
    }
    [[nodiscard]] std::string word_of(const tranche::slab_use& use) const {
        using use_of = tranche::slab_use::way;
        switch (use.becomes) {
        case use_of::as_it_is: return "leave";
        case use_of::trimmed_down: return "trim";
        case use_of::halved: return "halve";
        case use_of::other_cut: return words_of("as " + session_.specs()[use.spec].name);
        case use_of::loose: break;
        }
        return "loose";
    }
    /// "two fillets of 7 oz", as far as a program can say it.
    [[nodiscard]] std::string become(const tranche::slab_use& use) const {
        using use_of = tranche::slab_use::way;
        const tranche::cut_spec& cut = session_.specs()[use.spec];
        const auto portions = [&](int pieces) {
            return (pieces > 1 ? std::to_string(pieces) + " of " : std::string{}) + weight(use.portion);
        };
        switch (use.becomes) {
        case use_of::as_it_is: return "left as it is, " + portions(cut.pieces);
        case use_of::trimmed_down: return "trimmed down to " + portions(cut.pieces);
        case use_of::halved: return "halved, " + portions(2 * cut.pieces);
        case use_of::other_cut: return cut.name + ", " + portions(cut.pieces);
        case use_of::loose: break;
        }
        return "loose meat";
    }

    [[nodiscard]] std::string weight(tranche::mass m) const { return to_text(m, units_.portion); }
    [[nodiscard]] std::string thickness(tranche::length l) const { return to_text(l, units_.thickness); }
    [[nodiscard]] std::string along(tranche::length l) const { return to_text(l, units_.along); }

    [[nodiscard]] std::string name_of_slab(tranche::slab_kind kind, std::size_t option) const {
        if (kind == tranche::slab_kind::portions) return session_.specs()[option].name;
        if (kind == tranche::slab_kind::facing) return "facing";
        return "loose meat for " + std::string(name_of(session_.rules().loose[option].goes_to));
    }

    void say_next() const {
        const auto& next = session_.next();
        if (!next) {
            out_ << "Nothing is left to cut. undo takes the last slab back, end closes the account.\n" << std::flush;
            return;
        }
        out_ << "Cut " << session_.slabs().size() + 1 << ": " << name_of_slab(next->kind, next->option);
        if (next->last)
            out_ << ", all that is left; about ";
        else
            out_ << ", " << thickness(next->set) << " thick, the knife at " << along(next->at)
                 << " from the rib end; about ";
        out_ << weight(next->weight);
        if (next->kind == tranche::slab_kind::portions) {
            const int pieces = session_.specs()[next->option].pieces;
            out_ << ", " << (pieces > 1 ? std::to_string(pieces) + " portions of " : std::string("trimmed "))
                 << weight(next->portion);
        }
        out_ << ". Portions to come: " << session_.portions_to_come() << ".\n";
        if (!next->last && thickness(next->set) != thickness(next->thickness)) {
            const tranche::length bias = session_.estimate().bias();
            const bool thick = bias > tranche::length{};
            const std::string off = to_text(thick ? bias : -bias, fine());
            out_ << "  (set so for a slab of " << thickness(next->thickness) << ": your slices come out "
                 << (off == to_text(tranche::length{}, fine()) ? "a little" : off) << (thick ? " thick" : " thin")
                 << ")\n";
        }
        out_ << "Weight? " << std::endl;
    }
    /// A hand is told finer than a knife is set.
    [[nodiscard]] tranche::length_division fine() const {
        return units_.thickness.in == tranche::length_division::unit::inches
                   ? tranche::length_division{units_.thickness.in, 32}
                   : tranche::tenths_of_millimetre;
    }

    void say_slab(const tranche::actual_slab& s, bool offer) const {
        out_ << "  " << name_of_slab(s.kind, s.option) << ", " << weight(to_mass(s.weight));
        if (s.kind != tranche::slab_kind::portions) {
            out_ << '\n';
            return;
        }
        const tranche::cut_spec& cut = session_.specs()[s.option];
        out_ << (cut.pieces > 1 ? ", each trimmed about " : ", trimmed about ") << weight(s.portion) << ": ";
        if (s.within()) {
            out_ << "within its limits\n";
            return;
        }
        const bool heavy = s.off > tranche::mass{};
        const std::string by = weight(heavy ? s.off : -s.off);
        out_ << (by == weight({}) ? "just too " : "too ") << (heavy ? "heavy" : "light")
             << (by == weight({}) ? "" : " by " + by);
        const auto could = session_.uses_of(s);
        out_ << "; it becomes " << become(could.front()) << '\n';
        if (!offer) return;
        for (std::size_t i = 1; i < could.size(); ++i)
            out_ << "    or say " << word_of(could[i]) << ": " << become(could[i]) << '\n';
    }
    void say_estimate() const {
        const tranche::cutting_estimate& e = session_.estimate();
        const tranche::length bias = std::max(e.bias(), -e.bias());
        const std::string off = to_text(bias, fine());
        out_ << "  the loin weighs " << tranche::percent_text(e.ratio()) << " (give or take "
             << tranche::percent_text(e.ratio_spread()) << ") of what was thought for its length; slabs come out "
             << (off == to_text(tranche::length{}, fine())
                     ? "as they are set"
                     : off + (e.bias() < tranche::length{} ? " too thin" : " too thick"))
             << " (give or take " << to_text(e.bias_spread(), fine()) << ")\n";
    }
    void say_plan() const {
        out_ << "  cut at " << along(session_.position()) << "; planned from there:\n";
        const tranche::profile& meat = session_.meat();
        for (const tranche::grid_slab& s : session_.plan_of_rest()) {
            const tranche::mass whole = session_.estimate().ratio() * to_mass(meat.between(s.from, s.to));
            out_ << "    to " << along(meat.position(s.to)) << ": " << name_of_slab(s.kind, s.option) << ", about "
                 << weight(whole) << " as it comes off\n";
        }
        for (const tranche::demand_shortfall& missing : session_.shortfalls()) out_ << "    " << missing.text << '\n';
    }

    Session& session_;
    const tranche::kitchen_units& units_;
    std::ostream& out_;
    std::function<void(const Session&)> keep_;
    std::optional<reading> doubtful_{};
    std::optional<tranche::mass> rest_{};
    decisions said_{};
    bool ending_ = false; // asked back whether so little is left
    bool refused_ = false;
};

} // namespace example
