"""The keys of a walk and its stops, each declared once."""

from __future__ import annotations

from guidebuild.guide.field_declaration import Field

F = Field

STOP_FIELDS = (
    F("place", "A place of places.yaml.", "gorse-bank", names="place", effect="A stop of the walk, with what is out there on the day."),
    F("minutes", "How long one stays.", "45", effect="The times of the stops."),
    F("metres", "How far it is from the stop before.", "200", effect="The walk's length, and the minutes between stops."),
    F("note", "What to do and to look for there.", "Kneel, and wait for something to move.", effect="In the leader's pack."),
)
WALK_FIELDS = (
    F("title", "What the walk is called.", "First sun on the gorse", effect="The head of its page, card, pack and calendar entry."),
    F("date", "The day of the walk.", "2027-04-11", effect="What is out is reckoned for this day; coming walks stand on the first page."),
    F("start", "When it begins, by the clock of the place.", "11:00", effect="On page, card, pack and in the calendar entry."),
    F(
        "time zone",
        "Its time zone, where that is not the guide's.",
        "Europe/London",
        stored_as="zone",
        effect="The calendar entry stands at the right hour.",
    ),
    F("meet", "Where one meets.", "The stile at the foot of Gorse Bank", effect="On page, card, pack and in the calendar entry."),
    F(
        "meet at",
        "Where that is: latitude and longitude.",
        '"51.5036, -1.1952"',
        effect="The meeting point on page, map, pack and leaflet and in the calendar entry, for telephones and as a figure of the grid.",
    ),
    F("leader", "Who leads it.", "Tamsin Rook", effect="On page and pack."),
    F("contact", "How to reach the leader.", "walks@larkfold.example", effect="On page and pack."),
    F("audience", "For whom it is.", "Adults; a steep path", effect="On page and pack."),
    F("minutes", "How long it takes in all.", "90", effect="The end of the calendar entry; stops may not take longer."),
    F("length", "The same, as a length of time.", "90 min", stored_as="minutes", effect="The same."),
    F("stops", "Its stops, in order.", "\n  - place: gorse-bank\n    minutes: 45", effect="The order of page, card and pack."),
    F(
        "track",
        "A file with the way, as a receiver writes it (GPX), or GeoJSON or KML; without it the stops are joined by straight lines.",
        "walks/september-hedge.gpx",
        stored_as="track_file",
        effect="The way on the walk's map, and the length of the walk.",
    ),
    F("bring", "What to bring.", "[hand lens, kneeling mat]", effect="On page, card and pack."),
    F(
        "hazards",
        "What can hurt people on the way; `none` where nothing can.",
        "[spines-and-thorns, ticks]",
        effect="Cautions of page, card, pack and calendar entry.",
    ),
    F("note", "What else its leader should know.", "Slippery chalk after rain.", effect="In the leader's pack."),
    F("card", "The format of its printed card.", "a6", stored_as="card_format", effect="The size of the walk's card."),
)
