/* A spirit weighed, a reading corrected, a mash looked into and taken to bottles, in C99. The batch is invented. */
#include <ferment/c.h>
#include <stdio.h>
#include <stdlib.h>

/* Any error ends this program; one of your own may know better. */
static void must(enum ferment_status status) {
    if (status == FERMENT_OK) return;
    fprintf(stderr, "%s\n", ferment_last_error());
    exit(EXIT_FAILURE);
}

static void weigh_and_read(void) {
    const double strengths[] = {20.0, 40.0, 60.0};
    double masses[3] = {0.0, 0.0, 0.0};
    double densities[3] = {0.0, 0.0, 0.0};
    const double shed_c[] = {8.0, 8.0, 8.0};
    must(ferment_abw_from_abv_array(3, strengths, FERMENT_STOP, masses, NULL));
    must(ferment_spirit_density_array(3, masses, shed_c, FERMENT_STOP, densities, NULL));
    for (int i = 0; i < 3; ++i) printf("spirit of %.0f %% vol at 8 degC  %7.2f kg/m3\n", strengths[i], densities[i]);

    struct ferment_hydrometer glass;
    must(ferment_hydrometer_init(&glass, sizeof glass));
    struct ferment_hydrometer_reading wash;
    wash.size = sizeof wash;
    must(ferment_hydrometer_correct(&glass, 1.012, 24.0, FERMENT_WASH_OF_ABV, 5.0, &wash));
    printf("1.012 at 24 degC              %8.4f\n", wash.sg);

    struct ferment_dilution reduced;
    reduced.size = sizeof reduced;
    must(ferment_dilute(68.0, 7.0, 40.0, 11.0, 8.0, &reduced));
    printf("7 L of 68 %% vol to 40 %% vol   %7.3f kg of water, %.3f L\n", reduced.water_kg, reduced.result.volume_l);
}

static struct ferment_bill* grist(void) {
    struct ferment_bill* bill = NULL;
    must(ferment_bill_create(&bill));
    must(ferment_bill_add(bill, "flaked barley", 14.0));
    must(ferment_bill_add(bill, "flaked rye", 4.0));
    must(ferment_bill_add(bill, "barley malt", 1.5));
    return bill;
}

static void ask_day_5(const struct ferment_bill* bill, const struct ferment_assumptions* no_cook, double water_kg) {
    struct ferment_conditions shed;
    must(ferment_conditions_init(&shed, sizeof shed));
    shed.yeast_kg = 0.020;
    shed.mash_c = 14.0;
    shed.ambient_c = 21.0;
    shed.ambient_swing_c = 3.0;
    struct ferment_fermentation* batch = NULL;
    must(ferment_fermentation_create(bill, water_kg, no_cook, &shed, &batch));

    struct ferment_reading day_5;
    must(ferment_reading_init(&day_5, sizeof day_5));
    day_5.time_h = 120.0;
    day_5.gravity.value = 1.0129;
    day_5.gravity.standard_uncertainty = 0.0005;
    day_5.temperature_c.value = 24.0;
    day_5.temperature_c.standard_uncertainty = 0.5;
    struct ferment_check* check = NULL;
    must(ferment_check_create(batch, 1, &day_5, FERMENT_USUAL_MEMBERS, FERMENT_USUAL_SEED, &check));
    struct ferment_check_summary found;
    found.size = sizeof found;
    must(ferment_check_get(check, &found));
    const char* stands = NULL;
    const char* because = NULL;
    must(ferment_standing_text((int)found.stands, &stands));
    must(ferment_cause_text((int)found.because, &because));
    printf("day 5                         %s, %s\n", stands, because);
    ferment_check_destroy(check);
    ferment_fermentation_destroy(batch);
}

static void plan(const struct ferment_bill* bill, const struct ferment_assumptions* no_cook, double water_kg) {
    struct ferment_still still;
    must(ferment_still_init(&still, sizeof still));
    still.boiler_l = 30.0;
    still.heating_kw = 3.0;
    struct ferment_plan_request request;
    must(ferment_plan_request_init(&request, sizeof request));
    request.water_kg = water_kg;
    request.stripping_still = &still;
    struct ferment_plan* planned = NULL;
    must(ferment_plan_create(bill, no_cook, &request, &planned));
    struct ferment_plan_summary sums;
    sums.size = sizeof sums;
    must(ferment_plan_get(planned, &sums));
    struct ferment_fraction hearts;
    hearts.size = sizeof hearts;
    must(ferment_plan_fraction(planned, FERMENT_HEARTS, &hearts));
    printf("wash                          %7.1f +- %.1f %% vol\n", sums.wash_abv.value, sums.wash_abv.standard_uncertainty);
    printf("hearts                        %7.1f L at %.0f %% vol, %d bottles\n", hearts.content.volume_l, hearts.content.abv, (int)sums.bottles);
    printf("%s\n", ferment_cautions());
    ferment_plan_destroy(planned);
}

int main(void) {
    if (ferment_interface_version() != FERMENT_INTERFACE_VERSION) return EXIT_FAILURE;
    weigh_and_read();

    double density = 0.0;
    must(ferment_water_density(20.0, &density));
    const double water_kg = 72.0 * density / 1000.0;
    struct ferment_assumptions no_cook;
    must(ferment_assumptions_init(&no_cook, sizeof no_cook));
    struct ferment_bill* bill = grist();
    ask_day_5(bill, &no_cook, water_kg);
    plan(bill, &no_cook, water_kg);
    ferment_bill_destroy(bill);

    if (ferment_spirit_density(33.3, 60.0, &density) != FERMENT_OK) printf("%s\n", ferment_last_error());
    return EXIT_SUCCESS;
}
