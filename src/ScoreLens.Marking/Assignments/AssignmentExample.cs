namespace ScoreLens.Marking.Assignments;

/// <summary>Assignment files to start from: one that explains every key by a comment, and one for each exercise that schools set.</summary>
public static class AssignmentExample
{
    /// <summary>
    /// The exercises for which there is a file to start from, such as <c>figured-bass</c>; <c>testdata/exercises</c> has a worked example
    /// of each.
    /// </summary>
    public static IReadOnlyList<string> Exercises { get; } =
    [
        "melody", "figured-bass", "labels", "inner-voices", "progression", "keyboard", "several-answers", "species-1", "species-2",
        "species-3", "species-4",
    ];

    /// <summary>The file to start from for an exercise. It marks nothing that its tasks do not ask for.</summary>
    /// <param name="exercise">One of <see cref="Exercises"/>.</param>
    /// <exception cref="ArgumentException">There is no such exercise.</exception>
    public static string For(string exercise)
    {
        if (!Exercises.Contains(exercise)) throw new ArgumentException($"There is no exercise '{exercise}'.", nameof(exercise));
        var name = $"ScoreLens.Marking.Exercises.{exercise}.yaml";
        using var reader = new StreamReader(typeof(AssignmentExample).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd();
    }

    /// <summary>The text of the file; it is itself a valid assignment.</summary>
    public const string Text = """
        # An assignment for 'scorelens mark'. Lines after # are comments; remove the # to use a line.
        # Paths are relative to the folder of this file. docs/assignment.md describes every key.

        title: Chorale exercise 1
        tasks:
          - Write four voices according to the rules of part-writing.
          - Write the key and a Roman numeral under every chord.

        # Work handed in later (by the file's date) is marked "late" and loses these points.
        # due: 2026-11-20 18:00
        # late-cost: 5

        # The criteria and their points. A criterion that is left out does not count.
        points:
          labels: 50
          part-writing: 50
          # given-parts: 10
          # devices: 20
          # balance: 10

        # A model answer: the students' labels are compared with its labels.
        # Of several model answers, the one that fits a submission best counts: model: [answer-a.musicxml, answer-b.musicxml]
        # model: answer.musicxml

        labels:
          # auto: compare with the model answer if the notes are the same, otherwise with the reading of the student's own notes.
          # model: always compare with the model answer. notes: always with the reading of the student's own notes.
          compare-with: auto
          # The relative worth of the parts of a label.
          worth: {key: 1, degree: 2, quality: 1, inversion: 1}
          # How far a label may stand from its chord, in quarter notes.
          tolerance: 0.5
          # Another reading is accepted from this probability on, relative to the best one.
          runner-up: 0.7
          # Notations that are read as labels: numerals, chord-symbols, functions.
          notations: [numerals]
          # by-scale: if a student writes every degree in capitals, the scale decides the quality.
          capitals: strict
          # no: if no key is written at all, the first label loses the points for its key, once.
          key-may-be-missing: no
          # nothing: a label with the wrong degree earns nothing for its other parts.
          wrong-degree: parts
          # hidden: the feedback says which part of a label is wrong but not what was expected, so that students can try again.
          answers: shown

        part-writing:
          style: chorale          # or keyboard
          voices: 4
          cost: 2                 # points for a fault of weight 1
          free: 0                 # number of faults that cost nothing
          strict-direct-motion: no
          horn-fifths: yes
          across-phrases: no
          # Weights of single rules: 2 counts double, off turns a rule off. Rules that are not listed keep their usual weight.
          rules:
            parallel-fifths: 1.5
            parallel-octaves: 1.5
            melodic-tritone: off
          ranges:
            soprano: C4-G5
            alto: G3-D5
            tenor: C3-G4
            bass: E2-C4

        # Parts that are given and must be kept.
        # given:
        #   score: exercise.musicxml
        #   voices: [soprano, bass]
        #   figures: no             # yes: the figured bass of that score must be realised

        # Required and forbidden devices. Mention them under tasks, and give points for devices above.
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

        # The cost of differences from the score that was set. By default a missing measure costs its share of all points.
        # differences:
        #   missing-measure: 5
        #   transposed: 2

        # The largest cost of a rule, a criterion or a measure, in points.
        # at-most:
        #   parallel-fifths: 6
        #   measure: 4

        # Bands of a rubric, by per cent of all points.
        # bands:
        #   - {from: 90, name: A, say: Excellent.}
        #   - {from: 75, name: B}

        # Reusable comments: @careful in the table of remarks stands for this text.
        # comments:
        #   careful: Look at the bass first.

        # Decisions of your own that replace those of the program.
        # overrule:
        #   - submission: anna      # the student's name in marks.csv; leave out for all students
        #     kind: parallel-fifths
        #     at: '3:2'             # measure, or measure:beat
        #     points: 0
        #     say: Allowed here, the voices cross.

        """;
}
