using System.CommandLine;
using ScoreLens.Benchmarks;
using ScoreLens.Benchmarks.Homework;
using ScoreLens.Benchmarks.Devices;
using ScoreLens.Benchmarks.Fuzzing;
using ScoreLens.Benchmarks.Invariance;
using ScoreLens.Benchmarks.Midi;
using ScoreLens.Benchmarks.Offers;
using ScoreLens.Benchmarks.PartWriting;
using ScoreLens.Benchmarks.Symbols;
using ScoreLens.Benchmarks.Truth;

// What a process of .NET costs that does nothing: the measure of every start.
if (args is [RatiosCommand.Nothing]) return 0;
var root = new RootCommand("Measures ScoreLens: accuracy against expert analyses, the textbooks' worked examples, devices, part-writing "
    + "rules, phrases, and speed.")
{
    AccuracyCommand.Create(),
    TextbooksCommand.Create(),
    PartWritingCommand.Create(),
    PhrasesCommand.Create(),
    BatteryCommand.Create(),
    DevicesOnReferenceCommand.Create(),
    PlantedFaultsCommand.Create(),
    SpeedCommand.Create(),
    StagesCommand.Create(),
    FullScoreCommand.Create(),
    RatiosCommand.Create(),
    ReadingCommand.Create(),
    ChangesCommand.Create(),
    InferenceCommand.Create(),
    MidiCommand.Create(),
    HomeworkCommand.Create(),
    MessyClassCommand.Create(),
    ExpertLabelsCommand.Create(),
    ReharmoniseCommand.Create(),
    OffersCommand.Create(),
    SetsCommand.Create(),
    RecoveryCommand.Create(),
    TruthCommand.Create(),
    InvarianceCommand.Create(),
    FuzzCommand.Create(),
    LeadSheetsCommand.Create(),
    NumeralsAsSymbolsCommand.Create(),
};
return root.Parse(args).Invoke();
