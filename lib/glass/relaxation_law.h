#pragma once

#include <array>

#include "glass/spectrum.h"

#include <string>

namespace thickset {

/// How the bulk (volume) part of the stress relaxes; on real tails the three differ by -20 to +80
/// %.
enum class Bulk {
  relaxing,       ///< with the published bulk series
  elastic,        ///< not at all
  constant_ratio  ///< as the shear does: the Poisson ratio stays constant
};

/// "relaxing", "elastic", "constant-ratio": as files and options write it.
inline constexpr std::array all_bulks{Bulk::relaxing, Bulk::elastic, Bulk::constant_ratio};

const char* name_of(Bulk bulk);

/// How fast a glass relaxes: the published spectrum on its own clock.
///
/// Reduced time runs at phi = mean_shear_time(ref)^-1 exp{(H/R)[1/T_ref - x/T - (1-x)/T_f]} seconds
/// of the spectrum per second. Source: [NARA71]; [CARRE99].
struct RelaxationLaw {
  RelaxationSpectrum spectrum;
  double reference_K = 869.0;
  double mean_shear_time_s = 1.0;  ///< at reference_K in equilibrium
  double activation_K = 76200.0;   ///< H/R
  double x = 0.5;                  ///< share of T in the activation, the rest is T_f's
  Bulk bulk = Bulk::relaxing;
  bool assumed = true;  ///< times from the fixed points, spectrum of soda-lime as a stand-in
  std::string source;   ///< what the times rest on
};

}  // namespace thickset
