// Ishigami's function by OpenTURNS, a general library for uncertainty, where it is installed: plain sampling, and Sobol' indices by
// the same estimator on as many randomised Sobol' points. One thread.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#ifdef TRANCHE_HAS_OPENTURNS

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <openturns/OT.hxx>
#include <openturns/TBB.hxx>

namespace tranche_benchmark {

/// Compiled, called for whole samples: the fastest way that OpenTURNS takes a function.
class openturns_ishigami : public OT::EvaluationImplementation {
public:
    openturns_ishigami* clone() const override { return new openturns_ishigami(*this); }
    OT::UnsignedInteger getInputDimension() const override { return 3; }
    OT::UnsignedInteger getOutputDimension() const override { return 1; }
    OT::Point operator()(const OT::Point& x) const override { return OT::Point(1, value(x[0], x[1], x[2])); }
    OT::Sample operator()(const OT::Sample& in) const override {
        OT::Sample out(in.getSize(), 1);
        const double* const from = in.data();
        double* const to = const_cast<double*>(out.data());
        for (std::size_t i = 0; i < in.getSize(); ++i) to[i] = value(from[3 * i], from[3 * i + 1], from[3 * i + 2]);
        return out;
    }

private:
    static double value(double a, double b, double c) {
        const double s = std::sin(b);
        return std::sin(a) * (1.0 + 0.1 * c * c * c * c) + 7.0 * s * s;
    }
};

struct openturns_rival {
    OT::Distribution inputs =
        OT::ComposedDistribution(OT::ComposedDistribution::DistributionCollection(3, OT::Uniform(-M_PI, M_PI)));
    OT::Function compiled = OT::Function(openturns_ishigami());
    OT::Function symbolic = OT::SymbolicFunction(OT::Description({"a", "b", "c"}),
                                                 OT::Description({"sin(a) * (1 + 0.1 * c^4) + 7 * sin(b)^2"}));

    openturns_rival() { OT::TBB::SetThreadsNumber(1); }

    [[nodiscard]] static std::string version() { return OT::PlatformInfo::GetVersion(); }

    /// Mean and standard deviation of n random points.
    [[nodiscard]] std::vector<double> moments(std::size_t n, const OT::Function& f) const {
        const OT::Sample out = f(inputs.getSample(n));
        return {out.computeMean()[0], out.computeStandardDeviation()[0]};
    }
    /// The same of a randomised net of n Sobol' points.
    [[nodiscard]] std::vector<double> net_moments(std::size_t n, const OT::Function& f) const {
        OT::LowDiscrepancyExperiment net(OT::SobolSequence(3), inputs, n, true);
        net.setRandomize(true);
        const OT::Sample out = f(net.generate());
        return {out.computeMean()[0], out.computeStandardDeviation()[0]};
    }
    /// First-order and total indices, means over randomisations of nets of n points.
    [[nodiscard]] std::vector<double> indices(std::size_t n, std::size_t randomisations, const OT::Function& f) const {
        std::vector<double> all(6);
        for (std::size_t r = 0; r < randomisations; ++r) {
            OT::LowDiscrepancyExperiment net(OT::SobolSequence(3), inputs, n, true);
            net.setRandomize(true);
            const OT::SobolIndicesExperiment experiment(net, false);
            const OT::Sample in = experiment.generate();
            const OT::JansenSensitivityAlgorithm jansen(in, f(in), n);
            const OT::Point first = jansen.getFirstOrderIndices(), total = jansen.getTotalOrderIndices();
            for (std::size_t i = 0; i < 3; ++i) {
                all[i] += first[i] / static_cast<double>(randomisations);
                all[3 + i] += total[i] / static_cast<double>(randomisations);
            }
        }
        return all;
    }
};

} // namespace tranche_benchmark

#endif
