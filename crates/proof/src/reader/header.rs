//! Which words exclude each other, and which of them the proof can follow.

/// The modal group of a word: no two of one group may stand in a line. Number in tenths.
pub(super) fn group(letter: char, tenths: i64) -> Option<&'static str> {
    Some(match (letter, tenths) {
        ('G', 0 | 10 | 20 | 30 | 330 | 382 | 800..=890) => "motion",
        ('G', 170 | 180 | 190) => "plane",
        ('G', 900 | 910) => "absolute or incremental",
        ('G', 930 | 940 | 950) => "feed",
        ('G', 960 | 970) => "speed",
        ('G', 200 | 210 | 700 | 710) => "unit",
        ('G', 400 | 410 | 420) => "compensation of the tool's radius",
        ('G', 430 | 490) => "compensation of the tool's length",
        ('G', 980 | 990) => "return of a cycle",
        ('G', 540..=593) => "zero of the work",
        ('G', 610 | 611 | 640) => "path",
        ('G', 40 | 100 | 280 | 300 | 530 | 920..=923) => "words for one line",
        ('M', 0 | 10 | 20 | 300 | 600) => "stop",
        ('M', 60) => "tool change",
        ('M', 30 | 40 | 50) => "spindle",
        ('M', 70 | 80 | 90) => "coolant",
        ('M', 480 | 490) => "overrides",
        _ => return None,
    })
}

/// Whether the proof follows what a word does. Number in tenths.
pub(super) fn followed(letter: char, tenths: i64) -> bool {
    match letter {
        'G' => matches!(
            tenths,
            0 | 10
                | 20
                | 30
                | 40
                | 170
                | 180
                | 190
                | 200
                | 210
                | 280
                | 330
                | 400
                | 490
                | 540
                | 610
                | 640
                | 700
                | 710
                | 800
                | 810
                | 820
                | 830
                | 900
                | 910
                | 940
                | 950
                | 960
                | 970
                | 980
                | 990
        ),
        _ => matches!(tenths, 0 | 10 | 20 | 30 | 40 | 50 | 60 | 70 | 80 | 90 | 300 | 480 | 490),
    }
}
