"""Solvers for ink, its planning and systems, anilox rolls and doctor blades, written from the printed questions alone."""

import math

from solving import Q, solves


def number(ratio):
    """A quantity without a unit as a float, with the dust of unit conversion rounded away."""
    return round(ratio.to("").magnitude, 9)


# Anilox rolls and films. Volume per area is a thickness, so pint turns BCM/in² and cm³/m² into µm.


@solves("film-on-the-web")
def film_on_the_web(question):
    _screen, volume, to_plate, to_web = question.all
    return volume * to_plate * to_web


@solves("film-on-paper-metric")
def film_on_paper_metric(question):
    # The second share is taken of what is on the plate.
    _screen, volume, to_plate, to_paper = question.all
    return volume * to_plate * to_paper


@solves("dry-coat-weight")
def dry_coat_weight(question):
    volume, density, solids, transfer = question.all
    film = volume * transfer
    wet_weight = film * density
    return film, wet_weight, wet_weight * solids


@solves("dry-film-thickness")
def dry_film_thickness(question):
    # Thickness goes with the solids by volume; those by weight are not needed.
    volume, transfer, _by_weight, by_volume = question.all
    wet = volume * transfer
    return wet, wet * by_volume


@solves("film-of-a-worn-roll")
def film_of_a_worn_roll(question):
    volume, lost, transfer = question.all
    left = volume * (1 - lost)
    return left, left * transfer


@solves("opening-against-dot")
def opening_against_dot(question):
    # One pitch is one opening and one wall.
    screen, cell, wall = question.all
    pitch = 1 / screen
    return pitch, pitch * cell / (cell + wall)


@solves("opening-against-dot-metric")
def opening_against_dot_metric(question):
    # One pitch is one opening and one wall.
    dot, screen, cell, wall = question.all
    opening = 1 / screen * cell / (cell + wall)
    return opening, dot - opening


@solves("screen-for-a-small-dot")
def screen_for_a_small_dot(question):
    # One round dot in each square of the plate screen; the screen is not rounded to a whole number.
    plate_screen, tone, cell, wall = question.all
    square = 1 / plate_screen
    diameter = square * math.sqrt(4 * tone / math.pi)
    pitch = diameter * (cell + wall) / cell
    return diameter, 1 / pitch


# Flow cups. Times are in seconds and the equations give mm²/s.


@solves("zahn-seconds-to-viscosity")
def zahn_seconds_to_viscosity(question):
    _temperature, seconds, factor, offset, density = question.all
    viscosity = factor * (seconds - offset) * Q("mm^2/s")
    return viscosity, viscosity * density


@solves("ford-seconds-to-viscosity")
def ford_seconds_to_viscosity(question):
    seconds, _temperature, density, factor, offset = question.all
    viscosity = factor * (seconds - offset) * Q("mm^2/s")
    return viscosity, viscosity * density


@solves("iso-cup-to-zahn")
def iso_cup_to_zahn(question):
    seconds = question.after("asks for")
    iso_factor, iso_divided = question.all_after("mm cup v =")[:2]
    zahn_factor, zahn_offset = question.all_after("for the Zahn 2 v =")[:2]
    viscosity = iso_factor * seconds - iso_divided / seconds
    return viscosity, viscosity / zahn_factor + zahn_offset


@solves("ford-to-zahn-three")
def ford_to_zahn_three(question):
    seconds = question.after("comes with")
    ford_factor, ford_offset = question.all_after("For the Ford 4 v =")[:2]
    zahn_factor, zahn_offset = question.all_after("for the Zahn 3 v =")[:2]
    viscosity = ford_factor * (seconds - ford_offset)
    return viscosity, viscosity / zahn_factor + zahn_offset


@solves("cold-ink-reading")
def cold_ink_reading(question):
    # Each degree takes its share of what the one before left.
    cold, seconds, fall, warm, factor, offset, _warm = question.all
    degrees = (warm - cold).to("delta_degC").magnitude
    viscosity = factor * (seconds - offset) * (1 - fall) ** degrees
    return viscosity, viscosity / factor + offset


@solves("cup-against-standard-oil")
def cup_against_standard_oil(question):
    oil, seconds, factor, offset = question.all_after("standard oil")
    true_reading = oil.to("mm^2/s").magnitude / factor + offset
    return true_reading, (seconds - true_reading) / true_reading * 100


# Mixing by weight.


@solves("extender-to-target")
def extender_to_target(question):
    ink, strength, target = question.all
    afterwards = ink * strength / target
    return afterwards - ink, afterwards


@solves("water-to-solids")
def water_to_solids(question):
    ink, solids, target = question.all
    afterwards = ink * solids / target
    return afterwards - ink, afterwards


@solves("blend-two-strengths")
def blend_two_strengths(question):
    weak, strong, total, target = question.all
    of_strong = total * (target - weak) / (strong - weak)
    return of_strong, total - of_strong


@solves("recipe-in-parts")
def recipe_in_parts(question):
    base, extender, wax, total = question.all
    part = total / (base + extender + wax)
    return base * part, extender * part


@solves("two-returns-and-a-target")
def two_returns_and_a_target(question):
    first, first_strength, second, second_strength, target = question.all
    mixture = first + second
    base = first * first_strength + second * second_strength
    return base / mixture, base / target - mixture


@solves("strength-for-a-worn-roll")
def strength_for_a_worn_roll(question):
    # The share of the roll's ink that reaches the web and the ink's density are taken as unchanged.
    lost, strength = question.all
    factor = 1 / (1 - lost)
    return factor, strength * factor * 100


@solves("acidity-from-ph")
def acidity_from_ph(question):
    # The concentration of hydrogen ions grows tenfold for each unit of pH.
    before, now = question.all
    fall = before - now
    return fall, 10**fall


# Planning the ink of a job.


@solves("mileage-of-a-roll")
def mileage_of_a_roll(question):
    area, volume, transfer, density = question.all[:4]
    weight_on_area = volume * transfer * density
    return 1 / weight_on_area, area * weight_on_area


@solves("ink-to-mix-for-a-run")
def ink_to_mix_for_a_run(question):
    web, chamber, pails, store = question.all
    needed = web + chamber + pails
    return needed, needed - store


@solves("recipe-from-what-is-left")
def recipe_from_what_is_left(question):
    violet, white, extender, left = question.all
    part = left / violet
    return part * (violet + white + extender), part * extender


@solves("pails-for-a-white")
def pails_for_a_white(question):
    weight, density, pail = question.all
    volume = weight / density
    return volume, math.ceil(number(volume / pail))


@solves("bring-a-return-up")
def bring_a_return_up(question):
    ink, strength, target, strong = question.all
    added = ink * (target - strength) / (strong - target)
    return added, ink + added


# Ink systems: drying, curing, pH.


@solves("one-dry-film-two-inks")
def one_dry_film_two_inks(question):
    dry, water_based, uv_curing = question.all
    return dry / water_based, dry / uv_curing


@solves("roll-share-for-uv")
def roll_share_for_uv(question):
    # The UV-curing white is to dry to the same film as the water-based one.
    dry, water_based, uv_curing = question.all
    return dry / water_based, dry / uv_curing


@solves("what-goes-up-the-dryer")
def what_goes_up_the_dryer(question):
    ink, time, solids = question.all
    stays = ink * solids
    return stays, (ink - stays) / time


@solves("dose-under-a-lamp")
def dose_under_a_lamp(question):
    irradiance, window, speed = question.all
    time = window / speed
    return time, irradiance * time


@solves("speed-for-an-aged-lamp")
def speed_for_an_aged_lamp(question):
    # The dose goes with the lamp's output divided by the speed.
    speed, output = question.all
    return speed * output, speed * (1 - output)


@solves("additive-for-the-ph")
def additive_for_the_ph(question):
    # The additive raises the pH evenly: each further 0.1 takes the same again.
    ink, shown, target, dose, step = question.all
    additive = ink.to("kg").magnitude * dose * (target - shown) / step
    return additive, additive / 2


@solves("when-the-ph-leaves-its-window")
def when_the_ph_leaves_its_window(question):
    # "Now" is the moment of the second reading.
    start, time, now, limit = question.all
    fall_in_an_hour = (start - now) / time.to("hour").magnitude
    return fall_in_an_hour, (now - limit) / fall_in_an_hour * 60


@solves("meter-between-two-buffers")
def meter_between_two_buffers(question):
    low, low_shown, high, high_shown, ink_shown = question.all
    for_one_unit = (high - low) / (high_shown - low_shown)
    return for_one_unit, low + (ink_shown - low_shown) * for_one_unit


# Choosing and measuring rolls; blades.


@solves("volume-for-a-dry-film")
def volume_for_a_dry_film(question):
    dry, solids, transfer = question.all
    wet = dry / solids
    return wet, wet / transfer


@solves("volume-for-a-coat-weight")
def volume_for_a_coat_weight(question):
    # Thickness goes with the solids by volume; those by weight are not needed.
    dry, by_volume, _by_weight, transfer = question.all
    wet = dry / by_volume
    return wet, wet / transfer


@solves("ratio-of-two-screens")
def ratio_of_two_screens(question):
    # The coarsest screen is that of the anilox roll for this plate.
    roll, plate, times = question.all
    return roll / plate, plate * times


@solves("aim-between-two-bands")
def aim_between_two_bands(question):
    low, low_density, high, high_density, aim = question.all
    share = (aim - low_density) / (high_density - low_density)
    return share * 100, low + (high - low) * share


@solves("volume-from-a-blot")
def volume_from_a_blot(question):
    drop, blot = question.all
    return drop / blot, drop / blot


@solves("three-places-on-a-roll")
def three_places_on_a_roll(question):
    new, *places = question.all
    mean = sum(places) / len(places)
    return mean, (new - mean) / new


@solves("depth-lost-volume-lost")
def depth_lost_volume_lost(question):
    now, new = question.all
    left = now / new
    return 1 - left, 1 - left**2


@solves("months-to-the-limit")
def months_to_the_limit(question):
    # "Now" is the end of the months of use; the answer is not rounded to whole months.
    volume, lost, months, limit = question.all
    return volume * (1 - limit), (limit - lost) / (lost / months)


@solves("contact-of-a-worn-edge")
def contact_of_a_worn_edge(question):
    blade, angle, tip = question.all
    sine = math.sin(angle.to("radian").magnitude)
    return tip / sine, blade / sine


@solves("blades-for-a-long-run")
def blades_for_a_long_run(question):
    # The first blade is in the deck before the run, so there is one change less than blades.
    run, life, change = question.all
    blades = math.ceil(number(run / life))
    return blades, (blades - 1) * change


@solves("blades-from-a-coil")
def blades_from_a_coil(question):
    # Nothing is lost at the cuts.
    coil, overhang, face = question.all
    blade = face + 2 * overhang
    return blade, math.floor(number(coil / blade))


# Bringing ink and roll to the deck.


@solves("ticket-volume-in-bcm")
def ticket_volume_in_bcm(question):
    ticket, roll = question.all
    return roll, (ticket - roll) / ticket


@solves("ink-for-the-deck")
def ink_for_the_deck(question):
    length, width, coverage, volume, transfer, density, chamber = question.all
    on_the_web = length * width * coverage * volume * transfer * density
    return on_the_web, on_the_web + chamber


@solves("ink-for-the-deck-by-mileage")
def ink_for_the_deck_by_mileage(question):
    length, width, coverage, mileage, set_up = question.all
    area = length * width * coverage
    return area, area / mileage + set_up


@solves("ink-left-for-the-run")
def ink_left_for_the_run(question):
    pail, chamber, film, coverage, width = question.all
    printable = pail - chamber
    return printable, printable / (film * coverage * width)
