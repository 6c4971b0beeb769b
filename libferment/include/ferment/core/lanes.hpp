#pragma once
// Eigen arrays as scalars: eight simulations or eight readings side by side. The only core header that includes Eigen.

#include <Eigen/Core>
#include <ferment/core/scalar.hpp>

namespace ferment {

/// Eight values that go through a kernel together. Fixed size on purpose: a dynamic array would allocate at every operation.
using Lanes = Eigen::Array<double, 8, 1>;

namespace num {

template <class S, int N, int Options>
inline constexpr bool is_lanes<Eigen::Array<S, N, 1, Options, N, 1>> = N > 0;

}  // namespace num
}  // namespace ferment
