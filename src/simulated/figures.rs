//! The figures of the simulated colonies, each with its source. Compact formulas with READ figures are cited; what is
//! called a guess is ours, tuned to the means it names.

/// Days an egg, a larva and a sealed worker take: hatched on day 3, sealed on day 9, out on day 21 (Winston 1987).
pub const WORKER_DAYS: usize = 21;
/// The day a worker's cell is sealed.
pub const WORKER_SEALED: usize = 9;
/// A drone is sealed on day 10 and comes out on day 24 (Fukuda and Ohtani 1977).
pub const DRONE_DAYS: usize = 24;
/// The day a drone's cell is sealed.
pub const DRONE_SEALED: usize = 10;
/// Brood lost a day: eggs, larvae, sealed (`HoPoMo`, Schmickl and Crailsheim 2007).
pub const BROOD_LOST: [f64; 3] = [0.03, 0.01, 0.001];
/// Most eggs a day of a good queen: 1,600 in two published models; queens differ (a guess on the spread).
pub const MOST_EGGS: (f64, f64) = (1_650.0, 200.0);
/// Eggs a bee on the nest can have nursed: 3 x bees / 21 (Free and Racey 1968), less a fifth for brood under care.
pub const NURSED: f64 = 0.115;
/// Cells of a deep frame, both sides (counts in Alabama).
pub const CELLS: f64 = 6_688.0;
/// Share of a brood frame's cells that hold brood (Delaplane et al. 2013, from memory).
pub const CELLS_FILLED: f64 = 0.8;
/// Bees of a deep frame, both sides (the same counts).
pub const FRAME_OF_BEES: f64 = 2_430.0;
/// Death of summer bees a day, in the hive and by flight: 31 days in full flight (Winston's 15 to 38, from memory).
pub const SUMMER_DEATH: (f64, f64) = (0.009, 0.0235);
/// Death of winter bees a day: fitted so that a cluster loses a third from November to March.
pub const WINTER_DEATH: f64 = 0.003;
/// Death of bees that carry the virus of mites, a day: half in 58 days (Martin 2001).
pub const SICK_DEATH: f64 = 0.012;
/// Chance that a pupa with a mite takes the virus, and that it dies of it (Martin 2001).
pub const VIRUS: (f64, f64) = (0.89, 0.20);
/// Invasion of worker and of drone cells: rate a day for each cell sealed that day and gram of bees (Boot et al. 1995;
/// Calis, Fries and Ryrie 1999).
pub const INVASION: (f64, f64) = (0.56, 6.49);
/// Mated daughters of a mother in a worker and in a drone cell (Martin 1998).
pub const DAUGHTERS: (f64, f64) = (1.01, 2.91);
/// Mites that fall when they leave a worker and a drone cell (Martin 1998).
pub const FALL: (f64, f64) = (0.30, 0.20);
/// Death of mites on bees a day, with and without brood (Martin 1998).
pub const MITE_DEATH: (f64, f64) = (0.006, 0.002);
/// Mites carried in a day from late July to November, a mean and its spread between yards: 72 to 248 in 3.5 months among
/// few colonies, up to 1,171 among many (Frey and Rosenkranz 2014).
pub const CARRIED_IN: (f64, f64) = (2.2, 0.8);
/// Honey a bee at rest eats in a day, grams, warm and in the winter cluster (Rortais et al. 2005; fitted to hive scales).
pub const EATEN: (f64, f64) = (0.011, 0.004);
/// Honey a larva eats and a cell of brood costs in warmth, grams a day (`HoPoMo`; Rortais et al. 2005).
pub const BROOD_EATS: (f64, f64) = (0.0109, 0.0141);
/// Honey of a full deep frame, kilograms.
pub const FRAME_OF_HONEY: f64 = 3.0;
/// Reader's error, standard deviation of the logarithm: bees, brood, honey (two readers in Georgia 2020).
pub const READER: (f64, f64, f64) = (0.13, 0.17, 0.25);
/// Bees on which a jar's over-dispersion is as if counted (a guess).
pub const JAR: f64 = 60.0;
/// Bees under which a colony dies in winter, and at other times (a guess).
pub const TOO_FEW: (f64, f64) = (4_000.0, 1_200.0);
/// Chance a year that a queen fails, by her summers: the first, the second, later ones (a guess).
pub const QUEEN_FAILS: [f64; 3] = [0.08, 0.18, 0.35];
/// Chance that a failing queen is replaced by the bees themselves while drones fly (a guess).
pub const REPLACED: f64 = 0.7;
/// Chance that a virgin comes home and lays: 154 of 177 splits were established (Aurell et al. 2025).
pub const MATES: f64 = 0.87;
/// Chance that a caged queen is taken (a guess).
pub const TAKEN: f64 = 0.88;
/// Mites on the bees on 1 March, a share of the bees, and its spread (a guess, tuned to the field counts of Vermont 2021
/// to 2023: under 1 % in June, 2 to 3 % at the middle colony in late August where nothing was done).
pub const MITES_IN_MARCH: (f64, f64) = (0.001_2, 0.8);
/// Frames of the nest that nectar does not fill before late August (a guess).
pub const NEST_KEPT: f64 = 4.5;
/// Day of the year on which a queen lays half of her most as fall comes, and how fast she slows (fitted so that a colony
/// of 30,000 bees in late August is one of 18,000 in October; medians of a published model).
pub const SLOWS: (f64, f64) = (228.0, 14.0);
/// Bees that a mite on bees makes sick in a day (a guess, tuned to survival by the count of late August: Vermont 2021).
pub const BITTEN: f64 = 0.08;
