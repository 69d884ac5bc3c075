using System.Globalization;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Model;
using ScoreLens.Training;

switch (args)
{
    case ["export", var corpus, var output]:
        Export.Run(corpus, output, 0);
        return 0;
    case ["export", var corpus, var output, "unlabelled"]:
        Export.RunUnlabelled(corpus, output);
        return 0;
    case ["export", var corpus, var output, var number]:
        Export.Run(corpus, output, int.Parse(number, CultureInfo.InvariantCulture));
        return 0;
    case ["measure", var corpus, var part, .. var rest]:
        var model = rest is [var file, ..] && file != "-" ? ReadingModel.Parse(File.ReadAllBytes(file)) : ReadingModel.Default;
        var split = Enum.Parse<Split>(part, ignoreCase: true);
        var trial = Trial.Of(model, corpus, w => w.Split == split);
        foreach (var text in rest.Skip(1).DefaultIfEmpty(""))
        {
            var (settings, keys) = (ReadingSettings.Default, KeyRule.Confirm);
            foreach (var pair in text.Split(',', StringSplitOptions.RemoveEmptyEntries).Select(s => s.Split('=')))
            {
                if (pair is not [var name, var value]) throw new FormatException($"'{text}' is not NAME=VALUE,…");
                if (name != "keys") settings = settings.With(name, value);
                else if (!KeyRuleNames.TryParse(value, out keys)) throw new FormatException($"'{value}' is no rule of keys.");
            }

            Print(text, trial.Run(settings, keys));
        }

        return 0;
    case ["clothes", var corpus, .. var rest]:
        var dressed = rest is [var path] ? ReadingModel.Parse(File.ReadAllBytes(path)) : ReadingModel.Default;
        Clothe("as written", (_, score) => score);
        Clothe("doubled", (work, score) => Orchestration.Doubled(score, work.Random(1)));
        Clothe("figured", (work, score) => Orchestration.Figured(score, work.Random(2)));
        Clothe("with a drone", (work, score) => Orchestration.WithDrone(score, work.Labels(), work.Random(3)));
        Clothe("without marks", (_, score) => Variation.Unmarked(score));
        return 0;

        void Clothe(string name, Func<CorpusWork, Score, Score> clothe) =>
            Print(name, Trial.Of(dressed, corpus, w => w.Split == Split.Validation, clothe).Run(ReadingSettings.Default));
    case ["calibrate", var corpus]:
        var kept = Trial.Of(ReadingModel.Default, corpus, w => w.Split == Split.Validation);
        var judgements = kept.Judgements(ReadingSettings.Default).ToArray();
        Console.WriteLine(string.Join(", ", Logistic.Fit(judgements).Select(c => c.ToString("f2", CultureInfo.InvariantCulture))));
        return 0;
    case ["choices", var corpus, var output]:
        ChoiceLearning.Run(corpus, output);
        return 0;
    default:
        Console.Error.WriteLine("usage: export CORPUS FOLDER [NUMBER|unlabelled] | calibrate CORPUS | clothes CORPUS [WEIGHTS]");
        Console.Error.WriteLine("       choices CORPUS FILE");
        Console.Error.WriteLine("       measure CORPUS train|validation|measure [WEIGHTS|- [NAME=VALUE,keys=RULE …]]");
        return 2;
}

// Numeral and key, shares by duration; in brackets how far the model's own probability is off, in points.
static void Print(string name, IReadOnlyDictionary<string, Trial.Shares> shares) =>
    Console.WriteLine($"{name,-16} " + string.Join("  ", shares.OrderBy(p => p.Key).Select(p =>
        string.Create(CultureInfo.InvariantCulture, $"{p.Key} {p.Value.Numeral:f3}/{p.Value.Key:f3} ({p.Value.Calibration:f1})"))));
