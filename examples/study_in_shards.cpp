// A study by several processes that know nothing of each other: each runs a shard into a file and goes on from there when it was
// killed; then the files are merged. `shard_over_processes` does all of that.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "sliced_prisms.hpp"

int main(int argc, char** argv) {
    const std::vector<std::string> words(argv + 1, argv + argc);
    const auto number = [&](std::size_t i) { return std::strtoull(words[i].c_str(), nullptr, 10); };
    try {
        if (words.size() == 5 && words[0] == "run") { // run SHARD SHARDS REPLICATES FILE
            const std::filesystem::path file = words[4];
            const example::sliced_prisms model;
            const tranche::study_options options{
                .title = "slices of 30 mm",
                .replicates = number(3),
                .checkpoint = [&](const tranche::study_result& so_far) { tranche::write_study_file(file, so_far); }};
            const tranche::shard mine(number(1), number(2));
            if (std::filesystem::exists(file)) {
                const tranche::study_result before = tranche::read_study_file(file);
                std::printf("going on after %llu replicates\n", static_cast<unsigned long long>(before.replicates()));
                tranche::write_study_file(file, tranche::resume_study(before, model, options, mine));
            } else {
                tranche::write_study_file(file, tranche::run_study(model, options, mine));
            }
            return 0;
        }
        if (words.size() >= 3 && words[0] == "merge") { // merge WHOLE PART...
            tranche::study_result whole = tranche::read_study_file(words[2]);
            for (std::size_t i = 3; i < words.size(); ++i) whole.merge(tranche::read_study_file(words[i]));
            tranche::write_study_file(words[1], whole);
            const auto slices = tranche::estimate_quantiles(whole["slices"], {0.05, 0.95});
            std::printf("%llu replicates, %.0f to %.0f slices 9 times out of 10, digest %016llx\n",
                        static_cast<unsigned long long>(whole.replicates()), slices[0].value, slices[1].value,
                        static_cast<unsigned long long>(tranche::study_digest(whole)));
            return 0;
        }
    } catch (const tranche::invalid_input& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
    std::fprintf(stderr, "study_in_shards run SHARD SHARDS REPLICATES FILE\nstudy_in_shards merge WHOLE PART...\n");
    return 1;
}
