using ScoreLens.Training;

if (args is ["export", var corpus, var output])
{
    Export.Run(corpus, output);
    return 0;
}

Console.Error.WriteLine("usage: export CORPUS FOLDER");
return 2;
