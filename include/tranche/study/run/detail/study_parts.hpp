// Takes summaries and results apart into bytes and puts them together again.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <tranche/study/run/detail/byte_text.hpp>
#include <tranche/study/run/study_result.hpp>
#include <tranche/study/summary/exact_summary.hpp>

namespace tranche::detail {

struct summary_parts {
    static void write(byte_writer& out, const exact_summary& s) {
        out.number(s.count_);
        out.number(s.missing_);
        out.number(s.count_ > 0 ? s.least_ : 0);
        out.number(s.count_ > 0 ? s.most_ : 0);
        out.number(s.sum_);
        out.number(s.squares_);
        out.number(std::uint64_t{s.bins_.level()});
        const auto bins = s.bins_.sorted();
        out.number(std::uint64_t{bins.size()});
        for (const auto& [bin, count] : bins) {
            out.number(bin);
            out.number(count);
        }
    }

    /// Into a summary of no values.
    static void read(byte_reader& in, exact_summary& s) {
        s.count_ = in.number();
        s.missing_ = in.number();
        s.least_ = in.signed_number();
        s.most_ = in.signed_number();
        s.sum_ = in.wide_number();
        s.squares_ = in.wide_number();
        const std::uint64_t level = in.number();
        std::vector<bin_table::entry> bins(in.count(16));
        std::uint64_t all = 0;
        for (std::size_t i = 0; i < bins.size(); ++i) {
            bins[i].first = in.signed_number();
            bins[i].second = in.number();
            if (bins[i].second < 1 || bins[i].second > exact_summary::most_values ||
                (i > 0 && bins[i].first <= bins[i - 1].first))
                refuse_bytes("a histogram out of order");
            all += bins[i].second;
        }
        if (level > 48 || bins.size() > bin_table::most_bins || all != s.count_ ||
            s.count_ > exact_summary::most_values || s.missing_ > exact_summary::most_values || s.least_ > s.most_ ||
            s.least_ < -most_of_output || s.most_ > most_of_output)
            refuse_bytes("a histogram that is not one of its values");
        // The outermost bins are those of the outermost values, so no bin is beyond what fits.
        if (s.count_ == 0
                ? s.least_ != 0 || s.most_ != 0 || level != 0
                : bins.front().first != bin_of(s, s.least_, level) || bins.back().first != bin_of(s, s.most_, level))
            refuse_bytes("a histogram that is not one of its values");
        // What values between these extremes can add up to, so that nothing that is computed of it overflows.
        const wide_integer n = static_cast<std::int64_t>(s.count_), least = s.least_, most = s.most_;
        const wide_integer largest = least * least > most * most ? least * least : most * most;
        if (s.sum_ < n * least || s.sum_ > n * most || s.squares_ < 0 || s.squares_ > n * largest)
            refuse_bytes("sums that are not those of the histogram");
        s.bins_ = bin_table(s.about_.bin, static_cast<std::uint32_t>(level), bins);
    }

private:
    [[nodiscard]] static std::int64_t bin_of(const exact_summary& s, std::int64_t value, std::uint64_t level) {
        return (value / s.about_.bin - (value % s.about_.bin < 0 ? 1 : 0)) >> level;
    }
};

struct study_parts {
    static void write(byte_writer& out, const study_result& r) {
        out.text(r.title_);
        out.number(r.seed_);
        out.number(std::uint64_t{r.outline_.outputs.size()});
        for (const study_output& output : r.outline_.outputs) {
            out.text(output.name);
            out.number(output.unit);
            out.number(output.bin);
        }
        out.number(std::uint64_t{r.outline_.reasons.size()});
        for (const std::string& reason : r.outline_.reasons) out.text(reason);
        out.number(std::uint64_t{r.covered_.size()});
        for (const replicate_range& range : r.covered_) {
            out.number(range.first);
            out.number(range.last);
        }
        for (const std::uint64_t count : r.impossible_) out.number(count);
        out.number(r.failed_);
        out.number(std::uint64_t{r.failures_.size()});
        for (const study_failure& failure : r.failures_) {
            out.number(failure.replicate);
            out.text(failure.message);
        }
        for (const exact_summary& summary : r.summaries_) summary_parts::write(out, summary);
    }

    [[nodiscard]] static study_result read(byte_reader& in) {
        std::string title = in.text();
        const std::uint64_t seed = in.number();
        study_outline outline;
        outline.outputs.resize(in.count(24));
        for (study_output& output : outline.outputs) {
            output.name = in.text();
            output.unit = in.real_number();
            output.bin = in.signed_number();
        }
        outline.reasons.resize(in.count(8));
        for (std::string& reason : outline.reasons) reason = in.text();
        study_result r(std::move(title), seed, std::move(outline));
        r.covered_.resize(in.count(16));
        for (std::size_t i = 0; i < r.covered_.size(); ++i) {
            replicate_range& range = r.covered_[i];
            range.first = in.number();
            range.last = in.number();
            if (range.first >= range.last || range.last > exact_summary::most_values ||
                (i > 0 && range.first <= r.covered_[i - 1].last))
                refuse_bytes("replicates out of order");
        }
        const std::uint64_t all = r.replicates();
        for (std::uint64_t& count : r.impossible_)
            if ((count = in.number()) > all) refuse_bytes("more impossible draws than replicates");
        r.failed_ = in.number();
        r.failures_.resize(in.count(16));
        for (std::size_t i = 0; i < r.failures_.size(); ++i) {
            r.failures_[i].replicate = in.number();
            r.failures_[i].message = in.text();
            if (i > 0 && !(r.failures_[i - 1] < r.failures_[i])) refuse_bytes("failures out of order");
        }
        if (r.failed_ > all || r.failures_.size() > r.failed_ || r.failures_.size() > study_result::most_failures)
            refuse_bytes("more failures than replicates");
        for (exact_summary& summary : r.summaries_) {
            summary_parts::read(in, summary);
            if (summary.count() + summary.missing() > all) refuse_bytes("more values than replicates");
        }
        if (!in.at_end()) refuse_bytes("more bytes than a study has");
        return r;
    }
};

} // namespace tranche::detail
