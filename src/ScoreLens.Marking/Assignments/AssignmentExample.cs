namespace ScoreLens.Marking.Assignments;

/// <summary>An assignment file to start from, every key explained by a comment.</summary>
public static class AssignmentExample
{
    /// <summary>The text of the file; it is itself a valid assignment.</summary>
    public const string Text = """
        # An assignment for 'scorelens mark'. Lines after # are comments; take the # off a line to use it.
        # Paths are reckoned from the folder of this file. docs/assignment.md describes every key.

        title: Chorale exercise 1
        tasks:
          - Write four voices after the rules of part-writing.
          - Write the key and a Roman numeral under every chord.

        # Work handed in later (by the file's date) is marked "late" and loses these points.
        # due: 2026-11-20 18:00
        # late-cost: 5

        # What the work is marked for. Leave out what does not count.
        points:
          labels: 50
          part-writing: 50
          # given-parts: 10
          # devices: 20
          # balance: 10

        # A model answer: its labels are what the students' labels are compared with.
        # model: answer.musicxml

        labels:
          # auto: with the model answer where the notes are the same, else with the reading of the student's own notes.
          # model: always with the model answer. notes: always with the student's own notes.
          compare-with: auto
          # What the parts of a label are worth against each other.
          worth: {key: 1, degree: 2, quality: 1, inversion: 1}
          # How far from its chord a label may stand, in quarter notes.
          tolerance: 0.5
          # A reading this probable, against the best one, is accepted too.
          runner-up: 0.7
          # What is read as a label: numerals, chord-symbols, functions.
          notations: [numerals]
          # by-scale: who writes every degree in capitals leaves the quality to the scale.
          capitals: strict
          # no: where no key is written at all, the first label loses its key, once.
          key-may-be-missing: no
          # nothing: a label with the wrong degree earns nothing for its other parts.
          wrong-degree: parts
          # hidden: the feedback says which part of a label is wrong, not what was expected, so that students can try again.
          answers: shown

        part-writing:
          style: chorale          # or keyboard
          voices: 4
          cost: 2                 # points that a fault of weight 1 costs
          free: 0                 # so many faults cost nothing
          strict-direct-motion: no
          horn-fifths: yes
          across-phrases: no
          # A weight for single rules: 2 counts double, off is not looked at. What is not listed has its usual weight.
          rules:
            parallel-fifths: 1.5
            parallel-octaves: 1.5
            melodic-tritone: off
          ranges:
            soprano: C4-G5
            alto: G3-D5
            tenor: C3-G4
            bass: E2-C4

        # Parts that are given and have to be kept.
        # given:
        #   score: exercise.musicxml
        #   voices: [soprano, bass]
        #   figures: no             # yes: the figured bass of that score has to be realised

        # Devices that have to be there, and that must not be; say so under tasks, and give points for devices above.
        # devices:
        #   required:
        #     - device: secondary-dominant
        #       count: 1
        #       resolved: yes
        #     - neapolitan
        #     - numeral: N6
        #   forbidden:
        #     - tritone-substitute

        # The share of the time outside the key, in per cent.
        # balance:
        #   band: 20-30
        #   of: local-key           # or home-key

        # What it costs to differ from the score that was set. A missing measure costs its share unless you say otherwise.
        # differences:
        #   missing-measure: 5
        #   transposed: 2

        # How many points a rule, a criterion or a measure costs at most.
        # at-most:
        #   parallel-fifths: 6
        #   measure: 4

        # Bands of a rubric, by per cent of all points.
        # bands:
        #   - {from: 90, name: A, say: Excellent.}
        #   - {from: 75, name: B}

        # Comments to reuse: @careful in the table of remarks stands for the text.
        # comments:
        #   careful: Look at the bass first.

        # Where you decide otherwise than the program; the last word is yours.
        # overrule:
        #   - submission: anna      # the student's name in marks.csv; left out: everybody
        #     kind: parallel-fifths
        #     at: '3:2'             # measure, or measure:beat
        #     points: 0
        #     say: Allowed here, the voices cross.

        """;
}
