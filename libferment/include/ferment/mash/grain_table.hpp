#pragma once
// The grain table: cereals, flakes, flours, malts, roots and sugars with mean, spread and source.

#include <algorithm>
#include <array>
#include <cctype>
#include <ferment/core/error.hpp>
#include <ferment/core/source.hpp>
#include <ferment/mash/grain.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ferment {

/// Where the table comes from. Each row names its own source; these are the works behind the short names.
namespace grain_sources {

inline constexpr source ciqual_2020{"ciqual_2020", "composition of foods [g/100 g as sold]",
                                    "ANSES, Ciqual French food composition table, version 2020-07-07, https://ciqual.anses.fr",
                                    "cereals, flakes, flours, roots", "three digits printed; as a starch reference 4 g/100 g"};
inline constexpr source ifct_2017{
    "ifct_2017", "composition of Indian foods, mean and standard deviation over regions [g/100 g as sold]",
    "Longvah T, Ananthan R, Bhaskarachary K, Venkaiah K, 2017. Indian Food Composition Tables. National Institute of Nutrition, Hyderabad",
    "cereals, millets, roots", "standard deviation over regions, printed with each figure"};
inline constexpr source usda_sr26{
    "usda_sr26", "composition of foods [g/100 g as sold]",
    "US Department of Agriculture, Agricultural Research Service, 2013. National Nutrient Database for Standard Reference, Release 26",
    "cereals, malt flour, sugars", "0.01 g printed; lots differ by 1 to 1.5 moisture, 1 to 2 protein, 2 to 4 starch, g/100 g"};
inline constexpr source afz_12443{"afz_12443", "composition of rye, mean and standard deviation over samples [% as fed]",
                                  "INRA-CIRAD-AFZ feed tables, node 12443, rye grain, https://feedtables.com/node/12443", "rye",
                                  "standard deviation printed with each figure"};
inline constexpr source thomas_ingledew_1995{
    "thomas_ingledew_1995", "starch of hulled and hulless oats [% dry]",
    "Thomas KC, Ingledew WM, 1995. Production of fuel alcohol from oats by fermentation. J. Ind. Microbiol. 15:125-130", "oats", "none stated in the abstract"};
inline constexpr source hgca_rr61{"hgca_rr61", "starch, sugar and protein of UK feed wheat [% dry]",
                                  "Smith TC et al., 2006. Wheat as a feedstock for alcohol production. HGCA Research Review 61",
                                  "UK feed wheat, benchmark for fuel alcohol", "none stated in the abstract"};
inline constexpr source belitz_15_6{"belitz_15_6", "average composition of cereals [% as is]",
                                    "Belitz H-D, Grosch W, Schieberle P, 2009. Food Chemistry, 4th ed., Springer, Table 15.6",
                                    "wheat, rye, maize, barley, oats, rice, millet", "columns add up to 99.75 to 101.5"};
inline constexpr source dlg_cvb_barley{"dlg_cvb_barley",
                                       "composition of barley [% as fed]",
                                       "raw-material lexicon, entry barley, quoting the DLG and CVB feed tables",
                                       "barley",
                                       "none stated",
                                       source_status::secondary};
inline constexpr source ars_2005{"ars_2005",
                                 "starch of maize [% dry]",
                                 "USDA-ARS news release, 12 July 2005; Kurambhatti CV et al., 2018, Energies, 26 October 2018, introduction (both 72 %)",
                                 "maize",
                                 "none stated; Srichuwong et al. 2010 imply 69.5 to 74.1 % over four inbred lines",
                                 source_status::secondary};
inline constexpr source jas_2018{"jas_2018", "composition of broken rice [% as fed]", "J. Anim. Sci. 2018, 96(6):2361-2370, Table 1", "broken rice",
                                 "none stated"};
inline constexpr source typical_spread{"typical_lot_spread",
                                       "spread of one lot about a table's mean [g/100 g]",
                                       "taken from the remarks of the tables: moisture 1 to 1.5, protein 1 to 2, starch 2 to 4; the other parts by analogy",
                                       "dry cereals without a printed standard deviation",
                                       "itself only an estimate",
                                       source_status::common_practice};

}  // namespace grain_sources

namespace detail {

/// One part in % as weighed: mean and standard deviation.
struct table_part {
    double mean;
    double sd;
};

struct grain_row {
    std::string_view name;
    std::string_view also;  // other trade names, separated by commas
    std::string_view form;
    table_part moisture, starch, sugars, protein, fat, fibre, ash;
    double disaccharide_share;  // of the sugars
    std::string_view starch_method;
    std::string_view source;
};

// Typical spread of one lot of dry cereal where the source prints none (grain_sources::typical_spread), % as weighed.
inline constexpr double lot_m = 1.2, lot_s = 3.0, lot_u = 0.5, lot_p = 1.5, lot_f = 0.5, lot_b = 1.5, lot_a = 0.3;
// Starch that was not measured but taken by difference or recalled doubts more.
inline constexpr double unmeasured_s = 4.0;

// Dry-basis figures are brought to the moisture of the row: as_is = dry (1 - moisture/100).
constexpr double as_is(const double dry_percent, const double moisture_percent) {
    return dry_percent * (1.0 - moisture_percent / 100.0);
}

// Barley, wheat, rye and maize grits serve their flakes as well, which no source read here lists.
inline constexpr table_part wheat_m{13.2, lot_m}, wheat_s{as_is(69.0, 13.2), 2.5}, wheat_u{as_is(3.0, 13.2), lot_u}, wheat_p{as_is(11.5, 13.2), lot_p},
    wheat_f{2.2, lot_f}, wheat_b{10.6, lot_b}, wheat_a{1.5, lot_a};
inline constexpr table_part rye_m{13.3, 1.2}, rye_s{49.3, 2.0}, rye_u{3.1, 1.1}, rye_p{8.5, 0.9}, rye_f{1.2, 0.2}, rye_b{13.2, lot_b}, rye_a{1.8, 0.2};
inline constexpr table_part barley_m{13.0, lot_m}, barley_s{52.7, lot_s}, barley_u{0.8, lot_u}, barley_p{10.9, lot_p}, barley_f{2.2, lot_f},
    barley_b{9.8, lot_b}, barley_a{2.4, lot_a};
inline constexpr table_part grits_m{12.6, lot_m}, grits_s{68.0, lot_s}, grits_u{0.5, 0.5}, grits_p{7.88, lot_p}, grits_f{1.8, lot_f}, grits_b{3.2, 1.0},
    grits_a{0.55, 0.2};
// Malts: dry-basis starch and sugars from memory; moisture 4 % as the malt specification of the Master Brewers Association implies.
inline constexpr double malt_moisture = 4.0;

// The share of disaccharides comes from the single sugars of the source row; where it lists none, from memory: sucrose and maltose prevail in cereals.

// clang-format off
inline constexpr std::array grain_rows{
    // Oats. With the hull on there are 9 points less starch; food tables list hulled-off grain.
    grain_row{"hulled oats", "oats,feed oats", "grain",
        {12.0, 1.5}, {as_is(50.8, 12.0), 2.0}, {1.2, lot_u}, {12.6, lot_p}, {7.1, lot_f}, {20.7, 3.0}, {1.72, lot_a}, 1.0,
        "not stated",
        "starch 50.8 % dry: Thomas & Ingledew 1995; protein, fat: Belitz Table 15.6; sugars, ash: CIQUAL 2020 9310; fibre with hull by difference; "
        "moisture: common practice, no source"},
    grain_row{"hulless oats", "naked oats,groats", "grain",
        {8.22, lot_m}, {as_is(59.8, 8.22), 2.0}, {1.2, lot_u}, {16.9, lot_p}, {6.9, lot_f}, {10.6, lot_b}, {1.72, lot_a}, 1.0,
        "not stated", "starch 59.8 % dry: Thomas & Ingledew 1995; the rest: CIQUAL 2020 9310"},
    grain_row{"flaked oats", "rolled oats,oat flakes,porridge oats", "flakes",
        {10.1, lot_m}, {56.9, lot_s}, {0.97, lot_u}, {13.3, lot_p}, {6.51, lot_f}, {10.2, lot_b}, {2.04, lot_a}, 1.0,
        "as the food table; starch and sugars make up its available carbohydrate", "CIQUAL 2020 9311"},
    // Wheats.
    grain_row{"wheat", "feed wheat,distilling wheat", "grain", wheat_m, wheat_s, wheat_u, wheat_p, wheat_f, wheat_b, wheat_a, 0.9,
        "not stated; benchmark of the UK trade",
        "starch 69 %, sugar 3 %, protein 11.5 % dry: HGCA Research Review 61; moisture, fat, ash: Belitz Table 15.6; fibre by difference"},
    grain_row{"flaked wheat", "wheat flakes,rolled wheat", "flakes", wheat_m, wheat_s, wheat_u, wheat_p, wheat_f, wheat_b, wheat_a, 0.9,
        "as wheat", "composition of wheat (HGCA Research Review 61, Belitz Table 15.6); no source of its own"},
    grain_row{"durum wheat", "", "grain", {10.7, lot_m}, {59.2, lot_s}, {3.17, lot_u}, {12.1, lot_p}, {2.24, lot_f}, {11.0, lot_b}, {1.64, lot_a}, 0.9,
        "as the food table; starch and sugars make up its available carbohydrate", "CIQUAL 2020 9060"},
    grain_row{"spelt", "dinkel", "grain", {11.0, lot_m}, {52.8, lot_s}, {6.68, 1.5}, {14.6, lot_p}, {2.43, lot_f}, {10.7, lot_b}, {1.78, lot_a}, 0.84,
        "as the food table; starch and sugars make up its available carbohydrate", "CIQUAL 2020 9001"},
    grain_row{"khorasan wheat", "", "grain", {11.1, lot_m}, {51.7, lot_s}, {7.74, 1.5}, {14.5, lot_p}, {2.13, lot_f}, {11.1, lot_b}, {1.67, lot_a}, 0.91,
        "as the food table; starch and sugars make up its available carbohydrate", "CIQUAL 2020 9003"},
    grain_row{"wheat flour", "white flour", "flour", {11.34, 0.93}, {70.03, 1.01}, {1.79, 0.08}, {10.36, 0.29}, {0.76, 0.07}, {2.76, 0.29}, {0.51, 0.07}, 0.22,
        "measured; method not stated", "IFCT 2017 A018"},
    grain_row{"wholemeal wheat flour", "wheat meal", "flour",
        {11.1, 0.35}, {56.82, 2.69}, {1.8, 0.06}, {10.57, 0.37}, {1.53, 0.12}, {11.36, 0.29}, {1.28, 0.19}, 0.17,
        "measured; method not stated", "IFCT 2017 A019"},
    // Rye and triticale. Polarimetric starch of rye is 62.0 % dry where the enzymatic is 56.9 %: the enzymatic is what ferments.
    grain_row{"rye", "", "grain", rye_m, rye_s, rye_u, rye_p, rye_f, rye_b, rye_a, 0.9,
        "enzymatic; polarimetric reads 5 points of dry matter more", "INRA-CIRAD-AFZ 12443; fibre: Belitz Table 15.6"},
    grain_row{"flaked rye", "rye flakes,rolled rye", "flakes", rye_m, rye_s, rye_u, rye_p, rye_f, rye_b, rye_a, 0.9,
        "as rye", "composition of rye (INRA-CIRAD-AFZ 12443, Belitz Table 15.6); no source of its own"},
    grain_row{"rye flour", "", "flour", {9.9, lot_m}, {65.8, lot_s}, {1.1, lot_u}, {7.24, lot_p}, {1.12, lot_f}, {9.5, lot_b}, {1.38, lot_a}, 0.84,
        "as the food table", "CIQUAL 2020 9533"},
    grain_row{"triticale", "", "grain", {10.01, lot_m}, {56.5, unmeasured_s}, {2.0, 1.0}, {13.18, lot_p}, {1.81, lot_f}, {14.6, lot_b}, {1.85, lot_a}, 0.9,
        "by difference: carbohydrate less fibre and sugars; may read 4 to 8 points high", "USDA SR26 20070; sugars: from memory"},
    // Barley. The starch of the Indian table (A004) is a suspect entry and is not used.
    grain_row{"barley", "feed barley", "grain", barley_m, barley_s, barley_u, barley_p, barley_f, barley_b, barley_a, 0.9,
        "as the feed tables; method not stated", "DLG and CVB feed tables, quoted second-hand; sugars: CIQUAL 2020 9320; fibre: Belitz Table 15.6"},
    grain_row{"flaked barley", "barley flakes,rolled barley", "flakes", barley_m, barley_s, barley_u, barley_p, barley_f, barley_b, barley_a, 0.9,
        "as barley", "composition of barley (DLG and CVB feed tables, second-hand; CIQUAL 2020 9320; Belitz Table 15.6); no source of its own"},
    grain_row{"barley flour", "barley meal", "flour",
        {13.1, lot_m}, {56.0, lot_s}, {0.8, lot_u}, {9.91, lot_p}, {2.3, lot_f}, {8.85, lot_b}, {1.39, lot_a}, 0.9,
        "as the food table", "CIQUAL 2020 9550"},
    // Malts. No source read here measured their starch; moisture 4 %, protein, fat, fibre and ash of barley malt flour brought to it.
    grain_row{"barley malt", "malt,pale malt,distilling malt", "malt",
        {malt_moisture, 1.0}, {as_is(58.5, malt_moisture), unmeasured_s}, {as_is(8.5, malt_moisture), 2.0},
        {10.75, lot_p}, {1.92, lot_f}, {7.43, lot_b}, {1.43, lot_a}, 0.7,
        "58.5 % dry, from memory; with the sugars it fits the printed extract of 81.4 to 82.6 % dry",
        "starch, sugars: from memory; the rest: USDA SR26 20131 brought to 4 % moisture"},
    grain_row{"wheat malt", "malted wheat", "malt", {malt_moisture, 1.0}, {as_is(62.0, malt_moisture), unmeasured_s}, {as_is(8.5, malt_moisture), 2.5},
        {as_is(11.5, malt_moisture), lot_p}, {as_is(2.5, malt_moisture), lot_f}, {as_is(12.2, malt_moisture), 2.0}, {as_is(1.7, malt_moisture), lot_a}, 0.7,
        "from memory: wheat less a tenth of its starch",
        "starch, sugars: from memory; the rest: wheat, dry basis (HGCA Research Review 61, Belitz Table 15.6)"},
    grain_row{"rye malt", "malted rye", "malt", {malt_moisture, 1.0}, {as_is(51.0, malt_moisture), unmeasured_s}, {as_is(8.5, malt_moisture), 2.5},
        {as_is(9.8, malt_moisture), lot_p}, {as_is(1.4, malt_moisture), lot_f}, {as_is(15.2, malt_moisture), 2.0}, {as_is(2.0, malt_moisture), lot_a}, 0.7,
        "from memory: rye less a tenth of its starch", "starch, sugars: from memory; the rest: rye, dry basis (INRA-CIRAD-AFZ 12443, Belitz Table 15.6)"},
    // Maize.
    grain_row{"maize", "corn,maize grain", "grain",
        {13.6, lot_m}, {as_is(72.0, 13.6), 2.5}, {1.6, lot_u}, {8.1, lot_p}, {3.7, lot_f}, {5.7, lot_b}, {1.7, lot_a}, 0.5,
        "not stated; other tables range from 65 % (IFCT 2017 A006) to 74 % dry (CIQUAL 2020 9200)",
        "starch 72 % dry: USDA-ARS 2005, Kurambhatti 2018; the rest: CIQUAL 2020 9200"},
    grain_row{"maize grits", "corn grits,polenta,maize semolina", "grits", grits_m, grits_s, grits_u, grits_p, grits_f, grits_b, grits_a, 0.5,
        "as the food table", "CIQUAL 2020 9614; sugars below its limit of determination"},
    grain_row{"flaked maize", "corn flakes,flaked corn,maize flakes", "flakes", grits_m, grits_s, grits_u, grits_p, grits_f, grits_b, grits_a, 0.5,
        "as maize grits", "composition of precooked maize semolina, CIQUAL 2020 9614; no source of its own"},
    // Rice.
    grain_row{"brown rice", "", "grain", {9.33, 0.39}, {71.31, 1.91}, {0.69, 0.08}, {9.16, 0.75}, {1.24, 0.08}, {4.43, 0.54}, {1.04, 0.18}, 0.2,
        "measured; method not stated", "IFCT 2017 A013"},
    grain_row{"white rice", "milled rice", "grain", {12.5, lot_m}, {77.8, lot_s}, {0.16, 0.1}, {7.04, lot_p}, {0.91, lot_f}, {1.05, 0.5}, {0.49, 0.2}, 1.0,
        "as the food table; starch and sugars make up its available carbohydrate", "CIQUAL 2020 9100"},
    grain_row{"broken rice", "brewers rice", "grain", {12.23, lot_m}, {73.08, lot_s}, {0.16, 0.1}, {6.53, lot_p}, {0.91, lot_f}, {1.05, 0.5}, {0.49, 0.2}, 1.0,
        "measured", "J. Anim. Sci. 2018, 96(6):2361, Table 1; sugars, fat, fibre, ash: CIQUAL 2020 9100"},
    grain_row{"parboiled rice", "", "gelatinised", {10.09, 0.43}, {76.14, 5.73}, {0.67, 0.25}, {7.81, 0.63}, {0.55, 0.08}, {3.74, 0.36}, {0.65, 0.08}, 0.24,
        "measured; method not stated", "IFCT 2017 A014"},
    grain_row{"flaked rice", "rice flakes", "flakes", {10.36, 0.53}, {68.06, 1.81}, {0.34, 0.06}, {7.44, 0.35}, {1.14, 0.11}, {3.46, 0.32}, {0.85, 0.13}, 0.41,
        "measured; method not stated", "IFCT 2017 A011"},
    grain_row{"puffed rice", "", "gelatinised", {9.4, 0.22}, {69.25, 2.16}, {0.64, 0.08}, {7.47, 0.15}, {1.62, 0.13}, {2.56, 0.33}, {1.28, 0.1}, 0.23,
        "measured; method not stated", "IFCT 2017 A012"},
    grain_row{"rice flour", "", "flour", {11.4, lot_m}, {70.0, lot_s}, {0.9, lot_u}, {7.62, lot_p}, {2.5, lot_f}, {3.3, lot_b}, {1.27, lot_a}, 1.0,
        "as the food table", "CIQUAL 2020 9520"},
    // Sorghum and millets.
    grain_row{"sorghum", "milo", "grain", {12.4, lot_m}, {62.9, lot_s}, {2.48, lot_u}, {10.6, lot_p}, {3.46, lot_f}, {6.7, lot_b}, {1.43, lot_a}, 0.5,
        "as the food table; 71.8 % dry, where 12 sorghums of Kaijage et al. 2014 average 70.7", "CIQUAL 2020 9360"},
    grain_row{"pearl millet", "bajra", "grain", {8.97, 0.6}, {55.21, 2.57}, {0.81, 0.01}, {10.96, 0.26}, {5.43, 0.64}, {11.49, 0.62}, {1.37, 0.17}, 0.0,
        "measured; method not stated", "IFCT 2017 A003"},
    grain_row{"little millet", "samai", "grain", {11.36, 0.19}, {56.07, 4.12}, {0.37, 0.09}, {10.13, 0.45}, {3.89, 0.35}, {7.72, 0.92}, {1.34, 0.16}, 0.35,
        "measured; method not stated", "IFCT 2017 A016"},
    grain_row{"millet flour", "millet", "flour", {10.3, lot_m}, {62.7, lot_s}, {0.5, lot_u}, {10.2, lot_p}, {4.1, lot_f}, {9.7, lot_b}, {2.55, lot_a}, 1.0,
        "as the food table; starch and sugars make up its available carbohydrate", "CIQUAL 2020 9555"},
    grain_row{"teff", "", "grain", {8.82, lot_m}, {63.3, unmeasured_s}, {1.84, lot_u}, {13.3, lot_p}, {2.38, lot_f}, {8.0, lot_b}, {2.37, lot_a}, 0.5,
        "by difference: carbohydrate less fibre and sugars; may read 4 to 8 points high", "USDA SR26 20142"},
    // Grains that are no cereals.
    grain_row{"buckwheat", "", "grain", {9.75, lot_m}, {58.9, unmeasured_s}, {2.6, 1.0}, {13.25, lot_p}, {3.4, lot_f}, {10.0, lot_b}, {2.1, lot_a}, 0.9,
        "by difference: carbohydrate less fibre and sugars; may read 4 to 8 points high", "USDA SR26 20008; sugars: USDA SR26 20011"},
    grain_row{"quinoa", "", "grain", {13.3, lot_m}, {52.2, lot_s}, {1.41, lot_u}, {13.2, lot_p}, {6.07, lot_f}, {7.0, lot_b}, {2.38, lot_a}, 0.0,
        "as the food table", "CIQUAL 2020 9340; sugars: IFCT 2017 A009"},
    grain_row{"amaranth", "", "grain", {9.2, 0.4}, {59.33, 1.31}, {0.8, 0.07}, {13.27, 0.34}, {5.56, 0.33}, {7.47, 0.09}, {3.05, 0.3}, 0.6,
        "measured; method not stated", "IFCT 2017 A002"},
    // Roots, fresh unless the name says otherwise.
    grain_row{"potato", "potatoes", "root", {79.0, 2.0}, {15.4, 2.0}, {0.78, 0.4}, {2.16, 0.4}, {0.18, 0.1}, {1.8, 0.4}, {1.02, 0.2}, 0.53,
        "as the food table; starch and sugars make up its available carbohydrate", "CIQUAL 2020 4008"},
    grain_row{"potato flakes", "dried potato", "gelatinised",
        {5.09, lot_m}, {70.6, lot_s}, {2.35, lot_u}, {8.04, lot_p}, {0.46, 0.2}, {10.3, lot_b}, {2.8, lot_a}, 0.44,
        "as the food table", "CIQUAL 2020 4022"},
    grain_row{"sweet potato", "", "root", {69.21, 0.83}, {18.82, 1.74}, {3.63, 0.05}, {1.33, 0.12}, {0.26, 0.06}, {3.99, 0.05}, {0.96, 0.07}, 0.68,
        "measured; method not stated", "IFCT 2017 F013"},
    grain_row{"cassava root", "cassava,manioc,yuca", "root", {59.7, 2.5}, {30.0, 2.5}, {1.7, 0.5}, {1.31, 0.3}, {0.29, 0.1}, {1.8, 0.5}, {0.61, 0.2}, 0.8,
        "as the food table", "CIQUAL 2020 54031"},
    grain_row{"tapioca starch", "tapioca,cassava starch", "starch",
        {10.99, lot_m}, {84.4, lot_s}, {3.35, 1.0}, {0.19, 0.1}, {0.02, 0.02}, {0.9, 0.4}, {0.11, 0.05}, 0.0,
        "by difference: carbohydrate less fibre and sugars", "USDA SR26 20068"},
    // Sugars: all of it dissolves, nothing has to be converted.
    grain_row{"white sugar", "sugar,sucrose,cane sugar,beet sugar", "sugar",
        {0.05, 0.03}, {0.0, 0.0}, {99.9, 0.05}, {0.0, 0.0}, {0.0, 0.0}, {0.0, 0.0}, {0.02, 0.01}, 1.0,
        "none", "sucrose; purity: common practice, no source"},
    grain_row{"glucose monohydrate", "dextrose,corn sugar", "sugar", {100.0 * (1.0 - stoichiometry::glucose_per_monohydrate), 0.3}, {0.0, 0.0},
        {100.0 * stoichiometry::glucose_per_monohydrate, 0.3}, {0.0, 0.0}, {0.0, 0.0}, {0.0, 0.0}, {0.0, 0.0}, 0.0,
        "none", "glucose with one water of crystallisation, from atomic weights"},
    grain_row{"honey", "", "sugar", {17.1, 1.5}, {0.0, 0.0}, {82.12, 2.5}, {0.3, 0.1}, {0.0, 0.0}, {0.2, 0.2}, {0.2, 0.1}, 0.1,
        "none", "USDA SR26 19296; share of disaccharides: from memory"},
    grain_row{"molasses", "treacle", "sugar", {21.87, 2.0}, {0.0, 0.0}, {74.72, 6.0}, {0.0, 0.1}, {0.1, 0.1}, {0.0, 0.1}, {3.3, 0.8}, 0.55,
        "none; total sugars by difference, some of which do not ferment", "USDA SR26 19304; share of disaccharides: from memory"},
};
// clang-format on

inline constexpr std::size_t fewest_grains = 25;
static_assert(grain_rows.size() >= fewest_grains);

inline Grain grain_from_row(const grain_row& row) {
    constexpr double per_percent = 0.01;
    const auto part = [](const table_part& x) { return measured{x.mean * per_percent, x.sd * per_percent}; };
    Grain g;
    g.name = row.name;
    g.form = row.form;
    g.moisture = part(row.moisture);
    g.starch = part(row.starch);
    g.sugars = part(row.sugars);
    g.protein = part(row.protein);
    g.fat = part(row.fat);
    g.fibre = part(row.fibre);
    g.ash = part(row.ash);
    g.disaccharide_share = row.disaccharide_share;
    g.starch_method = row.starch_method;
    g.source = row.source;
    return g;
}

/// The comma-separated names of a row's `also`.
inline std::vector<std::string_view> split_names(std::string_view list) {
    std::vector<std::string_view> names;
    while (!list.empty()) {
        const std::size_t comma = std::min(list.find(','), list.size());
        names.push_back(list.substr(0, comma));
        list.remove_prefix(std::min(comma + 1, list.size()));
    }
    return names;
}

/// Fewest single-letter changes that turn one word into another.
inline std::size_t letters_apart(const std::string_view a, const std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) {
        row[j] = j;
    }
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t above = row[j];
            row[j] = std::min({above + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0U : 1U)});
            diagonal = above;
        }
    }
    return row[b.size()];
}

/// Names that look like `wanted`, nearest first: those that share a word with it come before those that only differ by letters.
inline std::vector<std::string> nearest_grain_names(const std::string_view wanted) {
    constexpr std::size_t most_names = 5;
    constexpr std::size_t shared_word_bonus = 6;
    constexpr std::size_t shortest_shared = 4;
    std::vector<std::pair<std::size_t, std::string>> ranked;
    for (const grain_row& row : grain_rows) {
        std::vector<std::string_view> known = split_names(row.also);
        known.push_back(row.name);
        std::size_t best = wanted.size() + row.name.size() + shared_word_bonus;
        for (const std::string_view candidate : known) {
            std::size_t distance = letters_apart(wanted, candidate) + shared_word_bonus;
            for (std::size_t start = 0; start < wanted.size();) {
                const std::size_t end = std::min(wanted.find(' ', start), wanted.size());
                const std::string_view word = wanted.substr(start, end - start);
                if (word.size() >= shortest_shared && candidate.find(word) != std::string_view::npos) {
                    distance -= std::min(distance, shared_word_bonus);
                }
                start = end + 1;
            }
            best = std::min(best, distance);
        }
        ranked.emplace_back(best, std::string(row.name));
    }
    std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min(most_names, ranked.size()); ++i) {
        names.push_back(ranked[i].second);
    }
    return names;
}

}  // namespace detail

/// The names that grain() knows, in the order of the table.
inline std::vector<std::string> grain_names() {
    std::vector<std::string> names;
    names.reserve(detail::grain_rows.size());
    for (const detail::grain_row& row : detail::grain_rows) {
        names.emplace_back(row.name);
    }
    return names;
}

/// A grain of the table by its name or another name of the trade ("corn" finds maize); capitals do not matter.
/// Throws InputError for an unknown name, listing the nearest known ones.
inline Grain grain(const std::string_view name) {
    std::string wanted(name);
    std::transform(wanted.begin(), wanted.end(), wanted.begin(), [](const unsigned char c) { return static_cast<char>(std::tolower(c)); });
    for (const detail::grain_row& row : detail::grain_rows) {
        const std::vector<std::string_view> also = detail::split_names(row.also);
        if (row.name == wanted || std::find(also.begin(), also.end(), wanted) != also.end()) {
            return detail::grain_from_row(row);
        }
    }
    std::string message = "unknown grain " + in_quotes(name) + "; the nearest known names are ";
    const std::vector<std::string> nearest = detail::nearest_grain_names(shortened(wanted));
    for (std::size_t i = 0; i < nearest.size(); ++i) {
        message.append(i == 0 ? "" : ", ").append(nearest[i]);
    }
    throw InputError(message);
}

}  // namespace ferment
