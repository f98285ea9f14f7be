"""Flesch-Kincaid grades of a few passages by an outside program, for crates/report/tests/report/readability.rs.

    pip install textstat==0.7.3 "setuptools<80" && python reference.py > grades.json

The passages are our own. textstat 0.7.3 (MIT) counts syllables by hyphenation patterns, which find a few too few.
"""

import json

import textstat

PASSAGES = [
    "Your hips stay back while your arms start down. The club comes down from outside the line and cuts across "
    "the ball. The ball starts left and curves right.",
    "Put the phone on a stand at waist height. Stand still for a second before you start. Hold your finish for a "
    "second. Film three swings and send them all.",
    "Warm up for ten minutes first. Stop at once if anything hurts. Look around before every swing: nobody may be "
    "near the club, and nobody may be in the line of the ball.",
    "We measure how you move, not your health. Do you have pain, an injury or an operation behind you? Then ask a "
    "doctor before you practise.",
    "The interval of the measurement reaches across the boundary of the reference range, and consequently no "
    "statement about the deviation can be made with sufficient confidence. Additional recordings from "
    "complementary perspectives are recommended.",
    "Each number comes with a range. If we could know the true number, it would lie between the two ends nineteen "
    "times out of twenty. We tried this on golfers drawn by a computer, whose every joint is known.",
]

if __name__ == "__main__":
    rows = [
        {
            "text": text,
            "grade": round(textstat.flesch_kincaid_grade(text), 2),
            "syllables": textstat.syllable_count(text),
            "words": textstat.lexicon_count(text),
            "sentences": textstat.sentence_count(text),
        }
        for text in PASSAGES
    ]
    from importlib.metadata import version

    print(json.dumps({"program": f"textstat {version('textstat')}", "passages": rows}, indent=1))
