/* libferment in C: the same functions, names and figures as in C++ and Python, for programs in C99 and for everything that can call C.
 *
 * Units. Strengths by volume (abv) are % vol at 20 degC, strengths by mass (abw), extracts and shares are %, temperatures degC, densities kg/m3 in
 * vacuum, gravities true and 20/20 unless an argument says otherwise, pressures absolute and in kPa, refractive indices nD against air. Names end in
 * their unit: _c, _kg, _l (at 20 degC unless said otherwise), _kwh, _kw, _h, _kpa, _m. Ranges stand beside each argument.
 *
 * Errors. Every function that can fail returns a ferment_status; results go through pointers. On an error nothing is written to any result, and
 * ferment_last_error() has the message, which names the quantity, its value, its unit and what is allowed: the message of the C++ error. A pointer that
 * is NULL is an error (FERMENT_BAD_INPUT) wherever it is not said to be optional. No C++ exception leaves the library.
 *
 * NaN. A function whose only results are numbers (the FERMENT_... lists below, hydrometer, refractometer, two gravities) gives NaN and FERMENT_OK where
 * an input is NaN. Where a bill, a batch or a still is planned or a doubt is weighed, a NaN is FERMENT_BAD_INPUT or FERMENT_OUT_OF_RANGE instead: a plan
 * with a hole in it is no plan.
 *
 * Threads. Every function may be called from every thread; ferment_last_error() belongs to the calling thread. Handles may be read by several threads at
 * once; ferment_bill_add and the _destroy functions need the handle for themselves.
 *
 * Stability. Functions, constants and the order of fields of this interface are never changed or taken away while FERMENT_INTERFACE_VERSION (the number
 * in the name of the shared library) stays as it is; functions, constants and fields at the end of structs are added.
 *   - A struct that can grow begins with `size`. For input, let its _init function fill it in (also called for a struct of an older or newer header: it
 *     gets the size of yours). For results, set `size` to sizeof the struct. The library reads and writes no more than `size` bytes; what an older program
 *     does not know takes its usual value; a newer program on an older library gets FERMENT_BAD_INPUT if it sets what that library does not know, and
 *     finds result fields that it does not know unchanged.
 *   - struct ferment_measured, ferment_liquid and ferment_spirit are parts of others and never grow.
 *   - Handles (struct ferment_bill, ...) are opaque.
 *   - Enumerations travel as int and int64_t; new values are added at their end.
 *
 * Cautions. Distilling needs a licence nearly everywhere and is dangerous: print ferment_cautions() beside every plan of a run. Local codes and licensed
 * practice come before every figure here. A fermenting vessel fills a closed room with carbon dioxide.
 */
#ifndef FERMENT_C_H
#define FERMENT_C_H

#include <stddef.h> /* NOLINT(modernize-deprecated-headers): C has no other */
#include <stdint.h> /* NOLINT(modernize-deprecated-headers) */

#if defined(_WIN32)
#if defined(FERMENT_C_BUILD)
#define FERMENT_API __declspec(dllexport)
#else
#define FERMENT_API __declspec(dllimport)
#endif
#elif defined(__GNUC__)
#define FERMENT_API __attribute__((visibility("default")))
#else
#define FERMENT_API
#endif

#define FERMENT_INTERFACE_VERSION 1
#define FERMENT_QUANTILES 5           /* of a spread: 5, 25, 50, 75 and 95 % */
#define FERMENT_SEA_LEVEL_KPA 101.325 /* standard atmosphere */

#ifdef __cplusplus
extern "C" {
#endif

/* ---- errors, versions, cautions ---- */

enum ferment_status {
    FERMENT_OK = 0,
    FERMENT_OUT_OF_RANGE = 1, /* a value outside the range in which a formula or definition holds */
    FERMENT_BAD_INPUT = 2,    /* no number, no known name, NULL, or a contradiction of inputs */
    FERMENT_NO_SOLUTION = 3,  /* nothing solves it for valid inputs */
    FERMENT_OUT_OF_MEMORY = 4,
    FERMENT_INTERNAL = 5 /* a defect of the library; please report the message */
};

/* What went wrong in the last call of this thread that did not return FERMENT_OK; "" where none has. Never NULL. The text stays until the next such call
 * in this thread. Its longest is 4095 bytes; only an absurdly long name in it is cut. */
FERMENT_API const char* ferment_last_error(void);

/* The version of the library, "0.1.0". Never NULL. */
FERMENT_API const char* ferment_version(void);

/* The interface the library was built with; compare with FERMENT_INTERFACE_VERSION. */
FERMENT_API int ferment_interface_version(void);

/* What has to be read before any still is run: law, fire, pressure, fore-shots. Never NULL. */
FERMENT_API const char* ferment_cautions(void);

/* ---- numbers in, one number out ---- */

/* What an array function does with an element outside the range. */
enum ferment_outside {
    FERMENT_STOP = 0, /* nothing is written; the message begins with "element [i]: " */
    FERMENT_NAN = 1   /* NaN in its place, and FERMENT_OK */
};

/* Each line FERMENT_k(f, a, ..., r) declares two functions, here for two inputs:
 *     enum ferment_status f(double a, double b, double *r);
 *     enum ferment_status f_array(size_t n, const double *a, const double *b, int outside, double *r, size_t *first_bad);
 * with the result r. The second takes n of each; r may be one of the inputs or overlap it. `outside` is a ferment_outside. `first_bad`, which may be NULL,
 * becomes the index of the first element outside the range, in either way of going on, and n where there is none; it is left alone on other errors.
 * The pointers of an empty array (n = 0) may be NULL. Where options stand between inputs and result, they are ints after the inputs, one for the whole
 * array:
 *     enum ferment_status f(double a, int option, double *r);
 *     enum ferment_status f_array(size_t n, const double *a, int option, int outside, double *r, size_t *first_bad);
 * Errors of all: FERMENT_OUT_OF_RANGE, FERMENT_BAD_INPUT (NULL, unknown option), FERMENT_OUT_OF_MEMORY (arrays), FERMENT_NO_SOLUTION (a solver found none).
 */
/* NOLINTBEGIN(bugprone-macro-parentheses): names of arguments cannot stand in parentheses */
#define FERMENT_1(f, a, r)                                  \
    FERMENT_API enum ferment_status f(double a, double* r); \
    FERMENT_API enum ferment_status f##_array(size_t n, const double* a, int outside, double* r, size_t* first_bad)
#define FERMENT_2(f, a, b, r)                                         \
    FERMENT_API enum ferment_status f(double a, double b, double* r); \
    FERMENT_API enum ferment_status f##_array(size_t n, const double* a, const double* b, int outside, double* r, size_t* first_bad)
#define FERMENT_3(f, a, b, c, r)                                                \
    FERMENT_API enum ferment_status f(double a, double b, double c, double* r); \
    FERMENT_API enum ferment_status f##_array(size_t n, const double* a, const double* b, const double* c, int outside, double* r, size_t* first_bad)
#define FERMENT_1_WITH_1(f, a, option, r)                               \
    FERMENT_API enum ferment_status f(double a, int option, double* r); \
    FERMENT_API enum ferment_status f##_array(size_t n, const double* a, int option, int outside, double* r, size_t* first_bad)
#define FERMENT_1_WITH_2(f, a, option, option_2, r)                                   \
    FERMENT_API enum ferment_status f(double a, int option, int option_2, double* r); \
    FERMENT_API enum ferment_status f##_array(size_t n, const double* a, int option, int option_2, int outside, double* r, size_t* first_bad)
#define FERMENT_2_WITH_1(f, a, b, option, r)                                      \
    FERMENT_API enum ferment_status f(double a, double b, int option, double* r); \
    FERMENT_API enum ferment_status f##_array(size_t n, const double* a, const double* b, int option, int outside, double* r, size_t* first_bad)
#define FERMENT_2_WITH_2(f, a, b, option, option_2, r)                                          \
    FERMENT_API enum ferment_status f(double a, double b, int option, int option_2, double* r); \
    FERMENT_API enum ferment_status f##_array(size_t n, const double* a, const double* b, int option, int option_2, int outside, double* r, size_t* first_bad)
/* NOLINTEND(bugprone-macro-parentheses) */

/* -- water, sugar, wort -- */

/* Density of air-free water at atmospheric pressure [kg/m3]; 0.001 to 40 degC, 0.005 above.
 *   temperature_c   0 to 100.   Source: IAPWS SR6-08(2011). */
FERMENT_1(ferment_water_density, temperature_c, density);

/* Density of a sucrose solution, and of wort on the Plato scale [kg/m3].
 *   extract [%] 0 to 70; temperature_c 0 to 80.   Source: ICUMSA SPS-4. */
FERMENT_2(ferment_sucrose_density, extract, temperature_c, density);

/* Extract of a sucrose solution from its density [% mass]: the inverse of ferment_sucrose_density.
 *   density [kg/m3] of a solution of 0 to 70 %; temperature_c 0 to 80.   Source: ICUMSA SPS-4. */
FERMENT_2(ferment_extract_from_density, density, temperature_c, extract);

/* Density of a glucose solution at 20 degC [kg/m3]; 0.06.
 *   extract [%] 0 to 60.   Source: CRC Handbook, 102nd ed. */
FERMENT_1(ferment_glucose_density, extract, density);

/* Glucose from the density at 20 degC [% mass]: the inverse of ferment_glucose_density.
 *   density [kg/m3] of a solution of 0 to 60 %.   Source: CRC Handbook, 102nd ed. */
FERMENT_1(ferment_glucose_from_density, density, extract);

/* Extract in a litre of wort [g/L].
 *   extract [%] 0 to 70; temperature_c of the litre, 0 to 80.   Source: ICUMSA SPS-4. */
FERMENT_2(ferment_extract_per_litre, extract, temperature_c, extract_g_l);

/* Extract from grams per litre [% mass]: the inverse of ferment_extract_per_litre.
 *   extract_g_l [g/L] from 0 to that of 70 %; temperature_c 0 to 80.   Source: ICUMSA SPS-4. */
FERMENT_2(ferment_extract_from_per_litre, extract_g_l, temperature_c, extract);

/* -- gravities -- */

/* Temperatures of the sample and of the water that a gravity compares. */
enum ferment_reference { FERMENT_20_20 = 0, FERMENT_15_15 = 1, FERMENT_60F_60F = 2, FERMENT_20_4 = 3 };

/* Degrees Plato from the gravity of a wort [% mass].
 *   sg   from that of water to that of 70 % sucrose; a wash below water has no extract on this scale alone
 *   reference   a ferment_reference;   in_air   0 for a true gravity, 1 for one weighed in air of 1.2 kg/m3
 * Source: ICUMSA SPS-4; OIML R 111-1 (2004) for air. */
FERMENT_1_WITH_2(ferment_plato_from_sg, sg, reference, in_air, plato);

/* Gravity of a wort from degrees Plato: the inverse of ferment_plato_from_sg.
 *   plato [%] 0 to 70; options and source as there. */
FERMENT_1_WITH_2(ferment_sg_from_plato, plato, reference, in_air, sg);

/* Gravity of a liquid from its density at the sample temperature of the reference.
 *   density [kg/m3] 500 to 2000; options and source as ferment_plato_from_sg. */
FERMENT_1_WITH_2(ferment_sg_from_density, density, reference, in_air, sg);

/* Density at the sample temperature of the reference from the gravity [kg/m3]: the inverse of ferment_sg_from_density.
 *   sg of 500 to 2000 kg/m3; options and source as ferment_plato_from_sg. */
FERMENT_1_WITH_2(ferment_density_from_sg, sg, reference, in_air, density);

/* Density as weighed in air of 1.2 kg/m3 with weights of 8000 kg/m3 [kg/m3].
 *   density [kg/m3] 500 to 2000.   Source: OIML R 111-1 (2004). */
FERMENT_1(ferment_density_in_air, density, apparent_density);

/* True density from density as weighed in air [kg/m3]: the inverse of ferment_density_in_air.
 *   density [kg/m3] as weighed, 500 to 2000.   Source: OIML R 111-1 (2004). */
FERMENT_1(ferment_density_in_vacuum, density, true_density);

/* Gravity points, 1000 (SG - 1).   sg: any.   Source: definition. */
FERMENT_1(ferment_points_from_sg, sg, points);

/* Gravity from points, 1 + points/1000.   points: any.   Source: definition. */
FERMENT_1(ferment_sg_from_points, points, sg);

/* -- spirit: ethanol and water. temperature_c -20 to 40, not below the freezing point of the mixture -- */

/* Density of a spirit [kg/m3].   abw [%] 0 to 100; temperature_c.   Source: OIML R 22. */
FERMENT_2(ferment_spirit_density, abw, temperature_c, density);

/* Ethanol of a spirit from its density [% mass]: the inverse of ferment_spirit_density.   density [kg/m3]; temperature_c.   Source: OIML R 22. */
FERMENT_2(ferment_abw_from_density, density, temperature_c, abw);

/* Strength of a spirit from its density [% vol at 20 degC].   density [kg/m3]; temperature_c.   Source: OIML R 22. */
FERMENT_2(ferment_abv_from_density, density, temperature_c, abv);

/* Strength by volume at 20 degC from ethanol by mass [% vol].   abw [%] 0 to 100.   Source: OIML R 22. */
FERMENT_1(ferment_abv_from_abw, abw, abv);

/* Ethanol by mass from strength by volume at 20 degC [% mass]: the inverse of ferment_abv_from_abw.   abv [% vol] 0 to 100.   Source: OIML R 22. */
FERMENT_1(ferment_abw_from_abv, abv, abw);

/* US proof (60 degF) from % vol at 20 degC; two definitions, 50 % vol is 99.88 proof.   abv [% vol] 0 to 100.   Source: 27 CFR 5.1; OIML R 22. */
FERMENT_1(ferment_us_proof_from_abv, abv, us_proof);

/* % vol at 20 degC from US proof: the inverse of ferment_us_proof_from_abv.   us_proof 0 to 200.   Source: 27 CFR 5.1; OIML R 22. */
FERMENT_1(ferment_abv_from_us_proof, us_proof, abv);

/* US proof from ethanol by mass.   abw [%] 0 to 100.   Source: 27 CFR 5.1; OIML R 22. */
FERMENT_1(ferment_us_proof_from_abw, abw, us_proof);

/* Ethanol by mass from US proof [% mass]: the inverse of ferment_us_proof_from_abw.   us_proof 0 to 200.   Source: 27 CFR 5.1; OIML R 22. */
FERMENT_1(ferment_abw_from_us_proof, us_proof, abw);

/* What an alcoholometer shows in a sweetened spirit at 20 degC [% vol].   abv [% vol] 0 to 100; sugar_g_per_l [g/L] 0 to 500.
 * Source: density of a wash against OIML R 22. */
FERMENT_2(ferment_apparent_abv, abv, sugar_g_per_l, apparent_abv);

/* True strength of a sweetened spirit from what an alcoholometer shows at 20 degC [% vol]: the inverse of ferment_apparent_abv.
 *   apparent_abv [% vol] 0 to 100; sugar_g_per_l [g/L] 0 to 500. */
FERMENT_2(ferment_abv_of_sweetened, apparent_abv, sugar_g_per_l, abv);

/* -- wash: water, ethanol and extract. abw and extract are % mass of the wash; extract at most 70 % of what is not ethanol; temperature_c 0 to 40 -- */

/* Density of a wash [kg/m3].   abw [%] 0 to 100; extract [%]; temperature_c.   Source: OIML R 22 and ICUMSA SPS-4, additive volumes; 0.0003 in gravity. */
FERMENT_3(ferment_wash_density, abw, extract, temperature_c, density);

/* Gravity 20/20 of a wash.   abw [%] 0 to 100; extract [%].   Source: as ferment_wash_density. */
FERMENT_2(ferment_wash_gravity, abw, extract, sg);

/* Strength of a wash [% vol at 20 degC].   abw [%] 0 to 100; extract [%].   Source: as ferment_wash_density. */
FERMENT_2(ferment_wash_abv, abw, extract, abv);

/* Ethanol by mass of a wash from its strength [% mass]: the inverse of ferment_wash_abv.   abv [% vol] 0 to the strongest; extract [%] 0 to 70. */
FERMENT_2(ferment_wash_abw, abv, extract, abw);

/* Real extract of a wash of known ethanol [% mass]: the inverse of ferment_wash_density.   density [kg/m3]; abw [%]; temperature_c. */
FERMENT_3(ferment_wash_extract, density, abw, temperature_c, extract);

/* Ethanol of a wash of known real extract [% mass]: the inverse of ferment_wash_density.   density [kg/m3]; extract [%]; temperature_c. */
FERMENT_3(ferment_wash_abw_from_density, density, extract, temperature_c, abw);

/* -- boiling. pressure_kpa 20 to 110, absolute; see FERMENT_SEA_LEVEL_KPA -- */

/* Boiling point of water, spirit or wash [degC]; 0.4.   abw [%] 0 to 100; pressure_kpa; extract [%] 0 to 30, taken for glucose.
 * Source: modified Raoult's law, NRTL on published equilibria, DIPPR 101. */
FERMENT_3(ferment_boiling_point, abw, pressure_kpa, extract, boiling_c);

/* Ethanol in the vapour over a boiling liquid [% mass]; 1.3 % by moles.   Arguments and source as ferment_boiling_point. */
FERMENT_3(ferment_vapour_abw, abw, pressure_kpa, extract, vapour_abw);

/* Volatility of ethanol relative to water, by moles [1]; 1 at the azeotrope.   Arguments and source as ferment_boiling_point. */
FERMENT_3(ferment_relative_volatility, abw, pressure_kpa, extract, relative_volatility);

/* Temperature at which a vapour begins to condense [degC].   vapour_abw [%] 0 to 100; pressure_kpa.   Source: as ferment_boiling_point. */
FERMENT_2(ferment_dew_point, vapour_abw, pressure_kpa, dew_c);

/* Ethanol of the liquid under a vapour, which is that of the first drop [% mass].   vapour_abw [%] 0 to 100; pressure_kpa. */
FERMENT_2(ferment_abw_from_vapour_abw, vapour_abw, pressure_kpa, abw);

/* The mixture that no plain still can make stronger: its boiling point [degC] and its ethanol [% mass].   pressure_kpa. */
FERMENT_1(ferment_azeotrope_c, pressure_kpa, boiling_c);
FERMENT_1(ferment_azeotrope_abw, pressure_kpa, abw);

/* Vapour pressure of ethanol [kPa].   temperature_c -114.1 to 240.85.   Source: DIPPR 101. */
FERMENT_1(ferment_ethanol_vapour_pressure, temperature_c, pressure_kpa);

/* Vapour pressure of water [kPa].   temperature_c 0.01 to 373.946.   Source: DIPPR 101. */
FERMENT_1(ferment_water_vapour_pressure, temperature_c, pressure_kpa);

/* Pressure of the standard atmosphere [kPa]; weather moves it by 3 %.   altitude_m -5000 to 11000.   Source: standard atmosphere. */
FERMENT_1(ferment_pressure_at_altitude, altitude_m, pressure_kpa);

/* Altitude of a pressure of the standard atmosphere [m]: the inverse of ferment_pressure_at_altitude.   pressure_kpa 22.6 to 177.7. */
FERMENT_1(ferment_altitude_of_pressure, pressure_kpa, altitude_m);

/* Pressure at a place from the one of a weather report, reduced to sea level [kPa].   sea_level_kpa 85 to 110; altitude_m -5000 to 11000. */
FERMENT_2(ferment_station_pressure, sea_level_kpa, altitude_m, pressure_kpa);

/* Ethanol by moles from ethanol by mass, in ethanol and water [% mol].   abw [%] 0 to 100.   Source: IUPAC atomic weights. */
FERMENT_1(ferment_mole_percent_from_abw, abw, mole_percent);

/* Ethanol by mass from ethanol by moles [% mass]: the inverse of ferment_mole_percent_from_abw.   mole_percent 0 to 100. */
FERMENT_1(ferment_abw_from_mole_percent, mole_percent, abw);

/* -- refraction. temperature_c 10 to 40 unless said otherwise -- */

/* Refractive index of water.   temperature_c 0 to 60.   Source: IAPWS R9-97. */
FERMENT_1(ferment_water_refractive_index, temperature_c, refractive_index);

/* Refractive index of a sucrose solution.   extract [%] 0 to 70; temperature_c.   Source: additive refractivity on CRC and OIV rows; 1e-5. */
FERMENT_2(ferment_sucrose_refractive_index, extract, temperature_c, refractive_index);

/* Degrees Brix from the refractive index [% mass]: the inverse of ferment_sucrose_refractive_index. */
FERMENT_2(ferment_brix_from_refractive_index, refractive_index, temperature_c, brix);

/* Refractive index of a glucose solution at 20 degC; 5e-5.   extract [%] 0 to 60.   Source: CRC Handbook, 102nd ed. */
FERMENT_1(ferment_glucose_refractive_index, extract, refractive_index);

/* Glucose from the refractive index at 20 degC [% mass]: the inverse of ferment_glucose_refractive_index. */
FERMENT_1(ferment_glucose_from_refractive_index, refractive_index, extract);

/* Refractive index of a starch hydrolysate; 2.1e-5.   dry_matter [%] 0 to 66; temperature_c 20 to 60.   Source: ISO 1743. */
FERMENT_2(ferment_hydrolysate_refractive_index, dry_matter, temperature_c, refractive_index);

/* Dry matter of a starch hydrolysate [% mass]: the inverse of ferment_hydrolysate_refractive_index.   temperature_c 20 to 60. */
FERMENT_2(ferment_hydrolysate_from_refractive_index, refractive_index, temperature_c, dry_matter);

/* Dry matter of a starch hydrolysate from what a Brix refractometer shows of it at 20 degC [% mass].   brix [%] from 0 to those of 66 %. */
FERMENT_1(ferment_hydrolysate_from_brix, brix, dry_matter);

/* Refractive index of a spirit.   abw [%] 0 to 100; temperature_c.   Source: additive refractivity on CRC rows. */
FERMENT_2(ferment_spirit_refractive_index, abw, temperature_c, refractive_index);

/* Ethanol of a spirit of at most 75 % mass from its index [% mass]; stronger spirits have the index of weaker ones. */
FERMENT_2(ferment_abw_from_refractive_index, refractive_index, temperature_c, abw);

/* Refractive index of a wash; computed from its parts, measured mixtures were not found.   abw [%]; extract [%]; temperature_c. */
FERMENT_3(ferment_wash_refractive_index, abw, extract, temperature_c, refractive_index);

/* Real extract of a wash of known ethanol [% mass]: the inverse of ferment_wash_refractive_index.   refractive_index; abw [%] 0 to 75; temperature_c. */
FERMENT_3(ferment_wash_extract_from_refractive_index, refractive_index, abw, temperature_c, extract);

/* Ethanol of a wash of known real extract [% mass]: the inverse of ferment_wash_refractive_index.   refractive_index; extract [%] 0 to 40; temperature_c. */
FERMENT_3(ferment_wash_abw_from_refractive_index, refractive_index, extract, temperature_c, abw);

/* -- air -- */

/* Fresh air that keeps a well-mixed room at or below a limit of carbon dioxide [m3/h]. The gas is heavy: this is the least, and no safe figure for a pit or
 * cellar.   co2_l_per_h [L/h of gas] 0 or more; limit_ppm 1000 to 40000 (5000 for eight hours).   Source: published exposure limits. */
FERMENT_2(ferment_ventilation_m3_per_h, co2_l_per_h, limit_ppm, air_m3_per_h);

/* -- alcoholometer, and strength from two gravities -- */

/* True % vol at 20 degC from the reading of a glass alcoholometer.
 *   reading [% vol] 0 to 100; temperature_c -20 to 40; glass_expansion [1/K] 0 to 1e-3, 25e-6 by convention.   Source: ISO 1768:1975; OIML R 22. */
FERMENT_3(ferment_alcoholometer_abv, reading, temperature_c, glass_expansion, abv);

/* The same for a glass in US proof (60 degF).   reading 0 to 200. */
FERMENT_3(ferment_alcoholometer_us_proof, reading, temperature_c, glass_expansion, us_proof);

/* What a glass alcoholometer shows in a spirit of known strength [% vol]: the inverse of ferment_alcoholometer_abv.
 *   abv [% vol] 0 to 100; temperature_c -20 to 40, not frozen; glass_expansion [1/K] 0 to 1e-3. FERMENT_OUT_OF_RANGE also where it is off the scale.
 *   Source: ISO 1768:1975; OIML R 22. */
FERMENT_3(ferment_alcoholometer_reads_abv, abv, temperature_c, glass_expansion, reading);

/* The same for a glass in US proof (60 degF).   us_proof 0 to 200. */
FERMENT_3(ferment_alcoholometer_reads_us_proof, us_proof, temperature_c, glass_expansion, reading);

/* Ways from two gravities to a strength. */
enum ferment_gravity_method {
    FERMENT_DENSITY_BALANCE = 0, /* the one to take; the others are for comparison */
    FERMENT_BALLING = 1,
    FERMENT_CUTAIA_A = 2,
    FERMENT_CUTAIA_Q = 3,
    FERMENT_DOEMENS_A = 4,
    FERMENT_HALL = 5,
    FERMENT_HMRC_226 = 6
};

/* Strength of a wash from original and final gravity [% vol at 20 degC].
 *   original_gravity 1.000 to 1.130; final_gravity 0.980 to 1.060, not above the original (ranges of the density balance; the others are narrower)
 *   method   a ferment_gravity_method;   reference   a ferment_reference.   Source: density balance, yield of Bringhurst et al. 1996. */
FERMENT_2_WITH_2(ferment_abv_from_gravity, original_gravity, final_gravity, method, reference, abv);

/* Original gravity from strength and final gravity, by the density balance.   abv [% vol]; final_gravity 0.980 to 1.060; reference. */
FERMENT_2_WITH_1(ferment_original_gravity_from_abv, abv, final_gravity, reference, original_gravity);

/* The lowest gravity that a wort can ferment to.   original_gravity 1.000 to 1.130; reference.   Source: density balance. */
FERMENT_1_WITH_1(ferment_least_final_gravity, original_gravity, reference, final_gravity);

/* Apparent extract of a wash [% mass], negative below the gravity of water.   gravity of -6 to 70 %; reference. */
FERMENT_1_WITH_1(ferment_apparent_extract, gravity, reference, extract);

/* ---- what many results are made of; these structs never grow ---- */

struct ferment_measured {
    double value;
    double standard_uncertainty;
};

/* A wash, low wines or spirit by mass. */
struct ferment_liquid {
    double mass_kg;
    double abw;            /* ethanol, % mass */
    double extract;        /* what does not boil, % mass */
    double volume_l;       /* at 20 degC */
    double abv;            /* % vol at 20 degC */
    double pure_alcohol_l; /* at 20 degC */
};

struct ferment_spirit {
    double abv;
    double abw;
    double mass_kg;
    double ethanol_kg;
    double volume_l;                /* at 20 degC */
    double volume_at_temperature_l; /* at the temperature of the call */
    double pure_alcohol_l;          /* at 20 degC */
};

/* ---- instruments ---- */

/* What floats the glass or bends the light. Of a wash, strength or extract has to be known, for a hydrometer roughly. */
enum ferment_sample { FERMENT_WORT = 0, FERMENT_SPIRIT = 1, FERMENT_WASH_OF_ABV = 2, FERMENT_WASH_OF_EXTRACT = 3 };

enum ferment_hydrometer_scale { FERMENT_SCALE_SG = 0, FERMENT_SCALE_PLATO = 1, FERMENT_SCALE_DENSITY = 2 };

struct ferment_hydrometer {
    size_t size;
    double calibration_c;   /* temperature the scale is made for, 0 to 40; 20 */
    double glass_expansion; /* cubic, 1/K, 0 to 1e-3; 25e-6 (ISO 1768:1975) */
    double meniscus;        /* added to every reading taken at its top, in units of the scale; 0 */
    int64_t scale;          /* a ferment_hydrometer_scale; gravity */
};

struct ferment_hydrometer_reading {
    size_t size;
    double sg;                /* true, 20/20 */
    double density_at_sample; /* kg/m3, at the temperature of the sample */
    double abw;               /* zero in a wort */
    double abv;
    double extract; /* real; zero in a spirit */
};

/* Fills in the usual hydrometer. `size` is sizeof the struct. FERMENT_BAD_INPUT for NULL or an impossible size. The same holds for every _init. */
FERMENT_API enum ferment_status ferment_hydrometer_init(struct ferment_hydrometer* hydrometer, size_t size);

/* What a reading at a temperature means.
 *   reading         in units of the scale
 *   temperature_c   0 to 80 for wort, 0 to 40 for a wash, -20 to 40 for a spirit
 *   sample, known   a ferment_sample, and the abv or extract of a wash (ignored for others)
 * FERMENT_OUT_OF_RANGE where no such liquid floats the glass there.   Source: ISO 1768:1975 and the density of the liquid. */
FERMENT_API enum ferment_status ferment_hydrometer_correct(const struct ferment_hydrometer* hydrometer, double reading, double temperature_c, int sample,
                                                           double known, struct ferment_hydrometer_reading* corrected);

/* What the stem shows in a wash of known composition, in units of the scale: the inverse of ferment_hydrometer_correct.
 *   abw, extract [%], together at most 100; temperature_c 0 to 40. */
FERMENT_API enum ferment_status ferment_hydrometer_reads(const struct ferment_hydrometer* hydrometer, double abw, double extract, double temperature_c,
                                                         double* reading);

enum ferment_refractometer_scale { FERMENT_BRIX = 0, FERMENT_COMPENSATED_BRIX = 1, FERMENT_REFRACTIVE_INDEX = 2 };
enum ferment_refractometer_sugar { FERMENT_SUCROSE = 0, FERMENT_STARCH_HYDROLYSATE = 1 };

struct ferment_refractometer {
    size_t size;
    double zero;   /* what it shows too much in pure water at 20 degC; 0 */
    int64_t scale; /* a ferment_refractometer_scale; Brix as at 20 degC */
};

struct ferment_refracted_wort {
    size_t size;
    double brix;                       /* at 20 degC: the sucrose solution of equal index */
    double dry_matter;                 /* differs from brix for starch hydrolysate only */
    double refractive_index;           /* at 20 degC */
    double refractive_index_at_sample; /* at the temperature of the sample */
};

struct ferment_refracted_wash {
    size_t size;
    double abw;
    double abv;
    double extract; /* real, on the sucrose scale */
    double refractive_index_at_sample;
};

FERMENT_API enum ferment_status ferment_refractometer_init(struct ferment_refractometer* refractometer, size_t size);

/* What a reading in a wort means, nothing fermented.
 *   reading in units of the scale; temperature_c 10 to 40 (10 to 30 compensated, 20 to 40 starch hydrolysate); sugar a ferment_refractometer_sugar.
 * Source: equal refractive index, see ferment_sucrose_refractive_index and ferment_hydrolysate_refractive_index. */
FERMENT_API enum ferment_status ferment_refractometer_correct_wort(const struct ferment_refractometer* refractometer, double reading, double temperature_c,
                                                                   int sugar, struct ferment_refracted_wort* corrected);

/* What a reading in a wash means of which one thing is known.
 *   sample, known   FERMENT_WASH_OF_ABV and 0 to 80 % vol, or FERMENT_WASH_OF_EXTRACT and 0 to 40 % mass.   Source: ferment_wash_refractive_index. */
FERMENT_API enum ferment_status ferment_refractometer_correct_wash(const struct ferment_refractometer* refractometer, double reading, double temperature_c,
                                                                   int sample, double known, struct ferment_refracted_wash* corrected);

/* What the refractometer shows in a wash of known composition, in units of the scale: the inverse of the above. */
FERMENT_API enum ferment_status ferment_refractometer_reads(const struct ferment_refractometer* refractometer, double abw, double extract, double temperature_c,
                                                            double* reading);

/* ---- strength of a wash ---- */

struct ferment_fermented_wash {
    size_t size;
    double abv;
    double abw;
    double original_extract;
    double real_extract;
    double apparent_extract;     /* negative below the gravity of water */
    double apparent_attenuation; /* share of the extract gone; this and the next two NaN for water */
    double real_attenuation;
    double real_degree_of_fermentation; /* ASBC Beer-6 */
    double extract_consumed;            /* kg per kg of wort, and so are the next three */
    double carbon_dioxide;
    double yeast;
    double liquid;
};

/* Everything that two gravities say of a wash.
 *   original_gravity 1.000 to 1.130; final_gravity 0.980 to 1.060, not above it (FERMENT_BAD_INPUT); reference a ferment_reference
 * Source: balance of sugar, ethanol, carbon dioxide and yeast on densities; yield of Bringhurst et al. 1996. */
FERMENT_API enum ferment_status ferment_gravity_balance(double original_gravity, double final_gravity, int reference, struct ferment_fermented_wash* wash);

struct ferment_found_strength {
    size_t size;
    struct ferment_measured abv;
    struct ferment_measured abw;
    struct ferment_measured real_extract;
};

/* Strength without an original gravity: ethanol lowers the density and raises the refractive index, extract raises both.
 *   sg and its standard uncertainty   20/20, 0.95 to 1.2, of the degassed clear wash
 *   brix and its own                  what a Brix refractometer shows at 20 degC, 0 to 70
 * FERMENT_NO_SOLUTION or FERMENT_OUT_OF_RANGE where no wash has both; FERMENT_BAD_INPUT for NaN and a negative or infinite uncertainty.
 * The doubt of both formulas and of the kind of extract is part of the results. */
FERMENT_API enum ferment_status ferment_abv_from_hydrometer_and_brix(double sg, double sg_uncertainty, double brix, double brix_uncertainty,
                                                                     struct ferment_found_strength* found);

/* The same with the refractive index at 20 degC, 1.32 to 1.42. */
FERMENT_API enum ferment_status ferment_abv_from_hydrometer_and_refractometer(double sg, double sg_uncertainty, double refractive_index,
                                                                              double refractive_index_uncertainty, struct ferment_found_strength* found);

/* ---- proofing. Masses are added, volumes never; source of all: mass balance on OIML R 22 ---- */

struct ferment_dilution {
    size_t size;
    struct ferment_spirit spirit; /* before */
    struct ferment_spirit result; /* after; volume_at_temperature_l at the temperature of the spirit */
    double water_kg;
    double water_l;       /* at the temperature of the water */
    double contraction_l; /* volume lost by mixing, at 20 degC */
};

/* Water that brings a spirit to a strength.
 *   abv [% vol] above 0 to 100; volume_l at temperature_c (-20 to 40), above 0; target_abv above 0, at most abv; water_temperature_c 0 to 40 */
FERMENT_API enum ferment_status ferment_dilute(double abv, double volume_l, double target_abv, double temperature_c, double water_temperature_c,
                                               struct ferment_dilution* dilution);

/* What a spirit becomes with water.   water_kg 0 or more. */
FERMENT_API enum ferment_status ferment_add_water(double abv, double volume_l, double water_kg, double temperature_c, double water_temperature_c,
                                                  struct ferment_dilution* dilution);

/* Spirit and water that make a volume at 20 degC of a strength; volumes at temperature are those at 20 degC. */
FERMENT_API enum ferment_status ferment_dilute_to_volume(double abv, double target_abv, double target_volume_l, double water_temperature_c,
                                                         struct ferment_dilution* dilution);

struct ferment_blended {
    size_t size;
    struct ferment_spirit result;
    double contraction_l; /* at 20 degC */
};

/* n spirits poured together.
 *   abv [% vol], volume_l at temperature_c: arrays of n, each as for ferment_dilute (water is a spirit of 0 % vol)
 *   result_temperature_c   for volume_at_temperature_l of the result */
FERMENT_API enum ferment_status ferment_blend(size_t n, const double* abv, const double* volume_l, const double* temperature_c, double result_temperature_c,
                                              struct ferment_blended* blend);

struct ferment_bottling {
    size_t size;
    int64_t bottles;         /* full ones */
    double fill_l;           /* into each at the filling temperature */
    double volume_at_fill_l; /* of all spirit, then */
    double rest_l;           /* at 20 degC */
};

/* Bottles that a spirit fills.
 *   abv, volume_l at temperature_c as for ferment_dilute; bottle_l nominal, at 20 degC, above 0; filling_temperature_c -20 to 40.   Also: OIML R 87. */
FERMENT_API enum ferment_status ferment_bottles(double abv, double volume_l, double bottle_l, double temperature_c, double filling_temperature_c,
                                                struct ferment_bottling* bottling);

/* ---- grain ---- */

struct ferment_bill; /* what goes into one mash */

/* An empty bill. Give it back with ferment_bill_destroy. */
FERMENT_API enum ferment_status ferment_bill_create(struct ferment_bill** bill);

/* Adds a lot of grain by name ("flaked barley", as ferment_grain_name lists them, or another trade name of it).
 *   kg   above 0
 * FERMENT_BAD_INPUT for an unknown name, with the nearest known ones, and for what is no number. */
FERMENT_API enum ferment_status ferment_bill_add(struct ferment_bill* bill, const char* name, double kg);

/* All grain together [kg]. */
FERMENT_API enum ferment_status ferment_bill_grain_kg(const struct ferment_bill* bill, double* kg);

/* Takes NULL as well. */
FERMENT_API void ferment_bill_destroy(struct ferment_bill* bill);

/* How many grains are known, and the name of one, 0 to count - 1. The text lives as long as the library. */
FERMENT_API enum ferment_status ferment_grain_count(size_t* count);
FERMENT_API enum ferment_status ferment_grain_name(size_t index, const char** name);

/* What is assumed about enzymes and yeast; values and standard uncertainties in %, 0 to 100. _init gives published figures of no-cook washes with enzyme in
 * plenty at 28 to 35 degC. A bill that converts and ferments wholly has 100 +- 0 in the first two. */
struct ferment_assumptions {
    size_t size;
    struct ferment_measured conversion;              /* share of the starch that becomes glucose */
    struct ferment_measured fermentation_efficiency; /* share of the sugar that becomes ethanol and carbon dioxide */
    struct ferment_measured soluble_share_of_rest;   /* share of the other dry matter that dissolves (common practice, no source) */
};
FERMENT_API enum ferment_status ferment_assumptions_init(struct ferment_assumptions* assumptions, size_t size);

enum ferment_yield_at {
    FERMENT_THEORETICAL = 0, /* all starch converted, all sugar to ethanol and carbon dioxide */
    FERMENT_EXPECTED = 1     /* as assumed */
};

struct ferment_yield {
    size_t size;
    struct ferment_measured conversion;              /* % */
    struct ferment_measured fermentation_efficiency; /* % */
    struct ferment_measured starch_converted_kg;
    struct ferment_measured extract_kg;
    struct ferment_measured extract;          /* % of the equivalent wort: degrees Plato */
    struct ferment_measured original_gravity; /* of the equivalent wort, 20/20 */
    struct ferment_measured ethanol_kg;
    struct ferment_measured pure_alcohol_l; /* at 20 degC */
    struct ferment_measured co2_kg;
    struct ferment_measured by_products_kg;
    struct ferment_measured litre_degrees_per_kg; /* at 10 % extract */
    struct ferment_measured points_per_pound_per_gallon;
    struct ferment_measured pure_alcohol_l_per_tonne; /* as weighed */
};

/* What a bill can give in its water.
 *   water_kg [kg] added, 0 or more; at   a ferment_yield_at
 * FERMENT_BAD_INPUT for an empty bill; FERMENT_OUT_OF_RANGE for impossible shares and where the extract would not dissolve.
 * Source: IUPAC atomic weights; published compositions of grain; ICUMSA SPS-4; OIML R 22. */
FERMENT_API enum ferment_status ferment_potential(const struct ferment_bill* bill, double water_kg, const struct ferment_assumptions* assumptions, int at,
                                                  struct ferment_yield* yield);

/* ---- fermentation ---- */

struct ferment_finished_wash {
    size_t size;
    struct ferment_measured conversion; /* % */
    struct ferment_measured ethanol_kg;
    struct ferment_measured pure_alcohol_l;
    struct ferment_measured co2_kg;
    struct ferment_measured starch_left_kg;
    struct ferment_measured wash_kg; /* liquid, on and off the grain */
    struct ferment_measured wash_l;
    struct ferment_measured abw;
    struct ferment_measured abv;
    struct ferment_measured real_extract;
    struct ferment_measured gravity; /* 20/20, degassed */
};

/* The wash when no sugar is left. Arguments and errors as ferment_potential. */
FERMENT_API enum ferment_status ferment_end_point(const struct ferment_bill* bill, double water_kg, const struct ferment_assumptions* assumptions,
                                                  struct ferment_finished_wash* end);

/* Yeast, enzymes and surroundings. */
struct ferment_conditions {
    size_t size;
    double yeast_kg;                     /* dry, above 0; must be set */
    double enzyme_dose;                  /* 1: what its maker states for uncooked grain; 0 to 20; 1 */
    double nutrients;                    /* factor on the yeast that can grow; 0.1 to 10; 1 */
    double mash_c;                       /* at pitching, 0 to 45; 20 */
    double ambient_c;                    /* mean, -30 to 50; 20 */
    double ambient_swing_c;              /* warmest less mean of the day, 0 to 30; 0 */
    double ambient_warmest_hour;         /* after pitching, 0 to 24; 15 */
    double heat_transfer_w_per_m2_k;     /* of the wall, 0 to 100; 7, bare metal or plastic */
    double sunshine_w;                   /* at noon, 0 or more; 0 */
    double noon_hour;                    /* after pitching, 0 to 24; 12 */
    size_t logged_n;                     /* entries of a logged ambient, in place of the mean and swing; 0: none */
    const double* logged_hours;          /* after pitching, rising; NULL */
    const double* logged_temperatures_c; /* as many; NULL */
};
FERMENT_API enum ferment_status ferment_conditions_init(struct ferment_conditions* conditions, size_t size);

struct ferment_fermentation; /* one batch, as it is known at pitching */

/* The batch of a bill in its water; everything is copied. FERMENT_OUT_OF_RANGE, FERMENT_BAD_INPUT as ferment_potential and outside the ranges above. */
FERMENT_API enum ferment_status ferment_fermentation_create(const struct ferment_bill* bill, double water_kg, const struct ferment_assumptions* assumptions,
                                                            const struct ferment_conditions* conditions, struct ferment_fermentation** fermentation);
FERMENT_API void ferment_fermentation_destroy(struct ferment_fermentation* fermentation);

/* What was measured. _init gives one with nothing measured; set time_h and at least one more. */
struct ferment_reading {
    size_t size;
    double time_h;                         /* after pitching */
    struct ferment_measured gravity;       /* 20/20, corrected, degassed, without solids; value NaN: not measured, and so below */
    struct ferment_measured temperature_c; /* of the wash */
    struct ferment_measured co2_lost_kg;   /* that a scale under the vessel has lost since pitching */
    int64_t iodine;                        /* -1: not tested, 0: no starch seen, 1: starch seen */
};
FERMENT_API enum ferment_status ferment_reading_init(struct ferment_reading* reading, size_t size);

enum ferment_forecast_quantity {
    FERMENT_GRAVITY = 0,
    FERMENT_ABV = 1,
    FERMENT_TEMPERATURE_C = 2,
    FERMENT_CONVERSION = 3, /* % */
    FERMENT_CO2_LOST_KG = 4,
    FERMENT_CO2_L_PER_H = 5
};

#define FERMENT_USUAL_MEMBERS 400
#define FERMENT_USUAL_SEED 1

struct ferment_forecast; /* many courses at once */

/* The forecast of a batch.
 *   times_h     n hours after pitching, rising; "done" is looked for up to the last of them
 *   readings    n_readings of them, times not going backwards, all with one size; NULL with 0: the forecast at pitching
 *   members     courses, 2 to 1e7; see FERMENT_USUAL_MEMBERS.   seed: the same draws the same courses on every machine
 * Source: kinetics fitted to published raw-starch fermentations at 28 to 35 degC, wider below. Quantiles hold what is not known of grain, enzymes, yeast and
 * vessel, not the error of a reading. */
FERMENT_API enum ferment_status ferment_forecast_create(const struct ferment_fermentation* fermentation, size_t n, const double* times_h, size_t n_readings,
                                                        const struct ferment_reading* readings, size_t members, uint64_t seed,
                                                        struct ferment_forecast** forecast);
FERMENT_API void ferment_forecast_destroy(struct ferment_forecast* forecast);

/* The quantiles of a ferment_forecast_quantity at every time: FERMENT_QUANTILES values for the first hour, then for the next.
 *   count   FERMENT_QUANTILES times the hours of the forecast; FERMENT_BAD_INPUT for any other */
FERMENT_API enum ferment_status ferment_forecast_quantiles(const struct ferment_forecast* forecast, int quantity, size_t count, double* values);

/* Quantiles of the hour of "done": FERMENT_QUANTILES values; infinite where that many members are not done by the last hour. */
FERMENT_API enum ferment_status ferment_forecast_done_h(const struct ferment_forecast* forecast, double* hours);

/* Share of the members done by an hour within the forecast [%]. NaN for NaN. */
FERMENT_API enum ferment_status ferment_forecast_done_by(const struct ferment_forecast* forecast, double hour, double* share);

/* How it stands. */
enum ferment_standing { FERMENT_ON_COURSE = 0, FERMENT_SLOW = 1, FERMENT_STOPPED = 2, FERMENT_FINISHED = 3 };

/* What may be behind it. */
enum ferment_cause {
    FERMENT_AS_PLANNED = 0,
    FERMENT_COLD = 1,
    FERMENT_UNDER_PITCHED = 2,
    FERMENT_YEAST_STOPPED = 3,
    FERMENT_ENZYME_LIMITED = 4,
    FERMENT_ENZYME_SPENT = 5, /* weighed only where an iodine test was made */
    FERMENT_STARCH_EXHAUSTED = 6,
    FERMENT_READING_ERROR = 7
};

/* Both in words. The texts live as long as the library. FERMENT_BAD_INPUT for any other value. */
FERMENT_API enum ferment_status ferment_standing_text(int standing, const char** text);
FERMENT_API enum ferment_status ferment_cause_text(int cause, const char** text);

/* A quantity of the last reading beside the forecast from plan and earlier readings; NaN where it was not measured. */
struct ferment_check_summary {
    size_t size;
    double time_h;                            /* of the last reading */
    int64_t stands;                           /* the most probable ferment_standing */
    int64_t because;                          /* the most probable ferment_cause */
    double conversion[FERMENT_QUANTILES];     /* share of the starch dissolved by now, % */
    double abv[FERMENT_QUANTILES];            /* by now */
    double gravity[FERMENT_QUANTILES];        /* what it should be now, all readings considered */
    double days_to_finish[FERMENT_QUANTILES]; /* infinite where not within four weeks */
    double end_gravity[FERMENT_QUANTILES];
    double end_abv[FERMENT_QUANTILES];
    double look_again_h; /* after pitching */
    double expected_gravity[FERMENT_QUANTILES];
    double gravity_z; /* read less expected, in standard deviations of forecast and reading together */
    double expected_temperature_c[FERMENT_QUANTILES];
    double temperature_z;
    double expected_co2_lost_kg[FERMENT_QUANTILES];
    double co2_lost_z;
};

struct ferment_check; /* what readings say */

/* Whether the last reading is where it should be, and what all readings say together. n_readings at least 1; the rest as ferment_forecast_create. */
FERMENT_API enum ferment_status ferment_check_create(const struct ferment_fermentation* fermentation, size_t n_readings, const struct ferment_reading* readings,
                                                     size_t members, uint64_t seed, struct ferment_check** check);
FERMENT_API void ferment_check_destroy(struct ferment_check* check);
FERMENT_API enum ferment_status ferment_check_get(const struct ferment_check* check, struct ferment_check_summary* summary);

/* Probability of a ferment_standing or a ferment_cause [1], readings considered. */
FERMENT_API enum ferment_status ferment_check_standing_probability(const struct ferment_check* check, int standing, double* probability);
FERMENT_API enum ferment_status ferment_check_cause_probability(const struct ferment_check* check, int cause, double* probability);

/* All of it in plain words, and a warning that is "" unless the readings contradict the plan and every cause. The texts live as long as the check. */
FERMENT_API enum ferment_status ferment_check_says(const struct ferment_check* check, const char** text);
FERMENT_API enum ferment_status ferment_check_warning(const struct ferment_check* check, const char** text);

/* ---- still. Read ferment_cautions() ---- */

struct ferment_still {
    size_t size;
    double boiler_l;            /* brim-full, above 0; must be set */
    double head_space;          /* share of the boiler that the charge leaves empty, %, 10 to 90; 25, for a wash, which foams */
    double heating_kw;          /* what the heating draws; 0, without which there are no times */
    double heat_loss;           /* share of the heating that never reaches the boiler, %; 0 */
    double heat_loss_w_per_k;   /* from boiler and head to the room; 0 */
    double still_heat_kj_per_k; /* heat capacity of the metal that gets hot; 0 */
    double pressure_kpa;        /* absolute, in the pot, 20 to 110; 101.325 */
};
FERMENT_API enum ferment_status ferment_still_init(struct ferment_still* still, size_t size);

struct ferment_charge_plan {
    size_t size;
    size_t count;                  /* equal charges */
    struct ferment_liquid charge;  /* one of them, wash and reserve together */
    struct ferment_liquid wash;    /* the wash in it */
    struct ferment_liquid reserve; /* the heads and tails in it */
    double usable_l;               /* what the boiler may take */
    double head_space;             /* really left empty, % of the boiler */
};

/* The fewest equal charges that a wash fits into.
 *   wash_l at 20 degC, above 0; abv; extract [%] 0 to 30; reserve_l and reserve_abv   heads and tails of the last run that go into each charge, 0 and 0 for
 * none FERMENT_OUT_OF_RANGE where the reserve alone fills the boiler.   Source: density of the wash. */
FERMENT_API enum ferment_status ferment_charges(const struct ferment_still* still, double wash_l, double abv, double extract, double reserve_l,
                                                double reserve_abv, struct ferment_charge_plan* charges);

/* What ends a stripping run. */
enum ferment_strip_end {
    FERMENT_END_DISTILLATE_ABV = 0, /* what comes over has fallen to it, % vol */
    FERMENT_END_POT_ABV = 1,        /* the pot has fallen to it, % vol */
    FERMENT_END_COLLECTED_L = 2,    /* so much has come over, L at 20 degC */
    FERMENT_END_HEAD_C = 3,         /* the head has risen to it, degC */
    FERMENT_END_RECOVERED = 4       /* so much of the ethanol has come over, % */
};

struct ferment_run {
    size_t size;
    double end;          /* in the unit of end_by; 5 */
    double start_c;      /* of the charge before heating; 20 */
    double ambient_c;    /* of the room; 20 */
    double distillate_c; /* as it leaves the condenser; 20 */
    double water_in_c;   /* cooling water; 15 */
    double water_out_c;  /* 50 */
    int64_t end_by;      /* a ferment_strip_end; distillate_abv */
    int64_t points;      /* of the curve behind the figures, 2 to 10000; 101 */
};
FERMENT_API enum ferment_status ferment_run_init(struct ferment_run* run, size_t size);

struct ferment_stripping {
    size_t size;
    struct ferment_liquid charge;
    struct ferment_liquid low_wines;
    struct ferment_liquid pot; /* what is left */
    double ethanol_left_share; /* of that in the charge, %; NaN where there is none */
    double boiling_start_c;    /* at the first drop */
    double boiling_end_c;      /* at the last */
    double heat_up_kwh;        /* this and all below: NaN where the still has heating_kw 0 */
    double boil_kwh;
    double loss_kwh;
    double energy_kwh; /* drawn: the three together */
    double heat_up_h;
    double boil_h;
    double total_h;
    double condenser_kwh;
    double condenser_mean_kw;
    double condenser_peak_kw;
    double water_l; /* cooling, measured cold */
    double water_l_per_h;
    double water_peak_l_per_h;
    double low_wines_l_per_h; /* mean */
};

/* One charge of a wash through a simple still, without reflux.
 *   charge_l at 20 degC, at most what leaves the head space; abv; extract [%] 0 to 30
 * FERMENT_OUT_OF_RANGE for an end that is passed at the first drop; FERMENT_NO_SOLUTION for one never reached and for heating that cannot make up for losses.
 * Source: Rayleigh's equation (Perry, 6th ed.) on the vapour of ferment_boiling_point; enthalpies of DIPPR and Redlich-Kister. */
FERMENT_API enum ferment_status ferment_strip(const struct ferment_still* still, double charge_l, double abv, double extract, const struct ferment_run* run,
                                              struct ferment_stripping* stripping);

/* ---- from sacks to bottles ---- */

enum ferment_take_off {
    FERMENT_AT_REFLUX = 0,   /* returned over taken off, by moles */
    FERMENT_AT_STRENGTH = 1, /* % vol, until max_reflux */
    FERMENT_AT_RATE = 2      /* L/h at 20 degC */
};
enum ferment_cut_by {
    FERMENT_CUT_ALCOHOL_SHARE = 0, /* % of the pure alcohol of the charge come over since the first drop */
    FERMENT_CUT_COLLECTED_L = 1,   /* of one charge since the first drop */
    FERMENT_CUT_DISTILLATE_ABV = 2 /* what comes over has fallen to it, % vol */
};
enum ferment_recycle_into { FERMENT_INTO_WASH = 0, FERMENT_INTO_LOW_WINES = 1 };

/* Everything a plan needs beside bill and assumptions. Usual values are common practice, no source. */
struct ferment_plan_request {
    size_t size;
    double water_kg;                               /* added to the mash; must be set */
    const struct ferment_still* stripping_still;   /* must be set, with heating_kw */
    const struct ferment_still* spirit_still;      /* NULL: the boiler of the stripping run */
    const struct ferment_run* run;                 /* end of the stripping run, room and water of both, points; NULL: as ferment_run_init */
    struct ferment_measured dissolved_by_products; /* share that stays in solution, % */
    struct ferment_measured absorption;            /* kg of water kept per kg of grist; 0 +- 0: distilled on the grain */
    double mash_head_space;                        /* of the fermenter, %; 20 */
    int64_t plates;                                /* theoretical, above the spirit pot; 0: a simple still */
    double packed_height_m;                        /* in place of plates; 0 */
    double hetp_m;                                 /* height of one plate of it; 0 */
    double hold_up_kg;                             /* liquid on the plates; 0 */
    double equilibration_h;                        /* at total reflux before the first drop; 0 */
    int64_t take_off_by;                           /* a ferment_take_off; reflux */
    double take_off;                               /* in its unit; 0 */
    double max_reflux;                             /* of FERMENT_AT_STRENGTH; 0 */
    double end_distillate_abv;                     /* ends of the spirit run, the first that comes true; NaN: not used; 10 */
    double end_pot_abv;                            /* NaN */
    double end_collected_l;                        /* NaN */
    double end_recovered;                          /* %; NaN */
    double end_take_off_l_per_h;                   /* NaN */
    double strongest_charge_abv;                   /* low wines above it are watered down to it; 30 */
    double dilution_water_c;                       /* of that water; 20 */
    double spirit_start_c;                         /* of the spirit charge before heating; 20 */
    int64_t fore_shots_by;                         /* a ferment_cut_by, and so below; alcohol share */
    double fore_shots_end;                         /* 1 */
    int64_t heads_by;                              /* alcohol share */
    double heads_end;                              /* 6, fore-shots included */
    int64_t hearts_by;                             /* distillate abv */
    double hearts_end;                             /* 60 */
    double recycled_l;                             /* heads and tails of an earlier run, never fore-shots; 0 */
    double recycled_abv;                           /* 0 */
    int64_t recycled_into;                         /* a ferment_recycle_into; low wines */
    double target_abv;                             /* bottling strength; 40 */
    double bottle_l;                               /* 0.7 */
    double bottling_water_c;                       /* 20 */
    double fill_c;                                 /* of the spirit when it is filled; 20 */
    double turnaround_h;                           /* between two charges; 1 */
};
FERMENT_API enum ferment_status ferment_plan_request_init(struct ferment_plan_request* request, size_t size);

struct ferment_plan_summary {
    size_t size;
    struct ferment_liquid wash;      /* off the grain, all of it */
    struct ferment_liquid in_grain;  /* what the spent grain keeps */
    struct ferment_liquid low_wines; /* all charges */
    struct ferment_liquid left;      /* in the spirit still, all charges */
    struct ferment_measured wash_gravity;
    struct ferment_measured wash_abv;
    struct ferment_measured wash_pure_alcohol_l; /* this and below: the doubt of bill, conversion, efficiency and absorption, in proportion */
    struct ferment_measured low_wines_l;
    struct ferment_measured low_wines_pure_alcohol_l;
    struct ferment_measured hearts_l; /* as cut */
    struct ferment_measured hearts_pure_alcohol_l;
    struct ferment_measured bottled_l;
    struct ferment_measured bottles_predicted; /* the rest as a part of one */
    size_t stripping_charges;
    size_t spirit_charges;
    int64_t plates;
    int64_t bottles;        /* full ones */
    double spirit_water_kg; /* added to all spirit charges */
    double bottling_water_kg;
    double fill_l;        /* into each bottle at fill_c */
    double rest_l;        /* of the last bottle, at 20 degC */
    double stripping_kwh; /* all charges */
    double spirit_kwh;    /* all charges */
    double energy_kwh;    /* both */
    double condenser_kwh;
    double water_l;   /* cooling */
    double running_h; /* heated */
    double turnaround_h;
    double total_h;
    double energy_kwh_per_pure_alcohol_l; /* in the hearts */
    double balance_error;                 /* what does not close of mass and ethanol, relative; round-off */
};

enum ferment_cut { FERMENT_FORE_SHOTS = 0, FERMENT_HEADS = 1, FERMENT_HEARTS = 2, FERMENT_TAILS = 3 };

struct ferment_fraction {
    size_t size;
    struct ferment_liquid content; /* all charges */
    double from_l;                 /* collected in one charge when it begins */
    double to_l;                   /* and when it ends */
    double from_abv;               /* of what comes over when it begins */
    double to_abv;                 /* and when it ends */
    double alcohol_share;          /* of the pure alcohol of the spirit charges, % */
};

struct ferment_plan; /* a plan, stage by stage */

/* From grain to bottles. The fermentation ends with no sugar left; nothing is lost in pumping, pressing or with the gas; all charges of a still are alike.
 * Errors as the parts have them, with the stage in front of the message; FERMENT_NO_SOLUTION where fore-shots or heads do not end within the run, and where no
 * hearts are left. Show ferment_cautions() with it. */
FERMENT_API enum ferment_status ferment_plan_create(const struct ferment_bill* bill, const struct ferment_assumptions* assumptions,
                                                    const struct ferment_plan_request* request, struct ferment_plan** plan);
FERMENT_API void ferment_plan_destroy(struct ferment_plan* plan);
FERMENT_API enum ferment_status ferment_plan_get(const struct ferment_plan* plan, struct ferment_plan_summary* summary);

/* What the spirit runs give under a label, a ferment_cut. */
FERMENT_API enum ferment_status ferment_plan_fraction(const struct ferment_plan* plan, int cut, struct ferment_fraction* fraction);

/* The plan as text to print, lines of at most 100 characters, cautions at the end. It lives as long as the plan. */
FERMENT_API enum ferment_status ferment_plan_sheet(const struct ferment_plan* plan, const char** text);

#ifdef __cplusplus
}
#endif

#endif
