//! The cards: plain first steps, in the order they are taken. They defer to emergency services, the label and the doctor.

/// A card: its title, and its steps.
pub struct Card {
    /// What has happened.
    pub title: &'static str,
    /// What to do, in order.
    pub steps: &'static [&'static str],
}

/// What to do when something has happened. Common first-aid teaching, no single source; its figures (five minutes to a
/// second pen, fifteen of rinsing, twenty of cooling, the weight of a full deep box) are from memory. The wording is ours,
/// and none of it replaces a course.
pub const CARDS: &[Card] = &[
    Card {
        title: "STINGS, AND A BODY THAT REACTS TO THEM",
        steps: &[
            "Walk away from the hives. Scrape or pull the sting out at once: how matters less than how fast.",
            "Trouble breathing, swelling of face or throat, an itching rash all over, faintness, vomiting: this is anaphylaxis.",
            "Epinephrine pen into the outer thigh NOW, through clothes if need be. Then call the emergency number.",
            "Lie down, legs up; sit up if breathing is hard. Do not stand up or walk, even if it feels better.",
            "No better after five minutes: a second pen, if there is one. Go to hospital also when it passes.",
            "Many stings at once, or in mouth or throat: call, even without signs of allergy.",
        ],
    },
    Card {
        title: "ACID OR TREATMENT ON SKIN, IN EYES, BREATHED IN",
        steps: &[
            "Eyes: rinse at once with clean running water, lids held open, 15 minutes and more; then to a doctor.",
            "Skin: off with the clothes it is on, rinse 15 minutes and more. Do not neutralize it.",
            "Breathed in: out into fresh air, upwind; sit up. Cough, tight chest: call the emergency number.",
            "Swallowed: rinse the mouth, do not vomit; call poison control with the label in hand.",
        ],
    },
    Card {
        title: "SMOKER, GRASS OR ALCOHOL ON FIRE",
        steps: &[
            "People first. Call the emergency number early: dry grass runs faster than you do.",
            "Small and just begun: water, extinguisher, wet sack, from upwind, a way out at your back.",
            "Alcohol burns with a flame hard to see: smother it, do not splash it.",
            "Clothes on fire: stop, drop, roll; cool burns under cool water for twenty minutes.",
        ],
    },
    Card {
        title: "HEAT, AND HEAVY BOXES",
        steps: &[
            "Headache, dizziness, cramps in the suit: veil off away from the hives, shade, water, cool wet cloths.",
            "Confused, hot, no longer sweating: heat stroke. Call the emergency number; cool with all there is.",
            "A full deep box weighs 80 to 90 lb (36 to 41 kg): bend the knees, or take frames out, or wait for two.",
        ],
    },
];

/// What to mind before the first treatment of a day.
pub const BEFORE: Card = Card {
    title: "BEFORE THE FIRST TREATMENT TODAY",
    steps: &[
        "Read the label in hand: dose, temperature, honey boxes, how long. The label and local law come before this program.",
        "Acid-proof gloves and goggles for acids; for vapor a respirator with the cartridge the label names. Stand upwind.",
        "Water to rinse with stands open and near. Somebody knows where you are.",
        "Nothing on the label's forbidden list: honey boxes that are for people, colonies too weak, weather too hot or cold.",
        "What is left over goes home in its own container, not into the grass.",
    ],
};
