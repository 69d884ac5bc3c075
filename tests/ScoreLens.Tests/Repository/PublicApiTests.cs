using System.Reflection;
using System.Text;
using Xunit;

namespace ScoreLens.Tests.Repository;

/// <summary>The public surface of the library is what PublicApi.txt says: it changes on purpose, never by the way.</summary>
public sealed class PublicApiTests
{
    private static readonly string Listing = Path.Combine(Places.Root, "tests", "ScoreLens.Tests", "Repository", "PublicApi.txt");

    [Fact]
    public void The_public_surface_is_the_approved_one()
    {
        var actual = Describe(typeof(CueAnalysis).Assembly);
        if (Environment.GetEnvironmentVariable("SCORELENS_APPROVE") == "1") File.WriteAllText(Listing, actual);
        var approved = File.ReadAllText(Listing).ReplaceLineEndings("\n");
        var added = actual.Split('\n').Except(approved.Split('\n')).ToList();
        var gone = approved.Split('\n').Except(actual.Split('\n')).ToList();
        Assert.True(
            actual == approved,
            $"The public surface changed. If it was meant, run this test with SCORELENS_APPROVE=1 and commit "
                + $"PublicApi.txt.\nnew:\n{string.Join('\n', added)}\ngone:\n{string.Join('\n', gone)}");
    }

    private static string Describe(Assembly assembly)
    {
        var text = new StringBuilder();
        foreach (var type in assembly.GetExportedTypes().OrderBy(t => t.FullName, StringComparer.Ordinal))
        {
            text.Append(Kind(type)).Append(' ').Append(Name(type)).Append('\n');
            var members = Members(type).Select(m => $"{type.Namespace}.{ShortName(type)}: {m}").Order(StringComparer.Ordinal);
            foreach (var member in members) text.Append("  ").Append(member).Append('\n');
        }

        return text.ToString();
    }

    private static IEnumerable<string> Members(Type type)
    {
        const BindingFlags declared = BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;
        if (type.IsEnum) return Enum.GetNames(type);
        return type.GetMembers(declared).Where(m => !IsMadeByCompiler(m)).Select(m => m switch
        {
            ConstructorInfo constructor => $"new({Parameters(constructor)})",
            MethodInfo method => $"{(method.IsStatic ? "static " : "")}{Name(method.ReturnType)} "
                + $"{method.Name}{TypeParameters(method)}({Parameters(method)})",
            PropertyInfo property => $"{(property.GetMethod?.IsStatic == true ? "static " : "")}{Name(property.PropertyType)} "
                + $"{property.Name} {{ {(property.SetMethod?.IsPublic == true ? "get; init or set" : "get")} }}",
            FieldInfo field => $"{(field.IsLiteral ? "const" : "field")} {Name(field.FieldType)} {field.Name}",
            _ => m.ToString()!,
        });
    }

    // What every record has, and the methods behind properties.
    private static bool IsMadeByCompiler(MemberInfo member) => member switch
    {
        MethodInfo { IsSpecialName: true } method => !method.Name.StartsWith("op_", StringComparison.Ordinal)
            || method.Name is "op_Equality" or "op_Inequality",
        MethodInfo { Name: "ToString" or "GetHashCode" or "Equals" or "Deconstruct" or "<Clone>$" or "PrintMembers" } => true,
        Type => true,
        _ => false,
    };

    private static string Kind(Type type) => type switch
    {
        { IsEnum: true } => "enum",
        { IsValueType: true } => "struct",
        { IsInterface: true } => "interface",
        { IsAbstract: true, IsSealed: true } => "static class",
        { IsAbstract: true } => "abstract class",
        { IsSealed: true } => "sealed class",
        _ => "class",
    };

    private static string Parameters(MethodBase method) =>
        string.Join(", ", method.GetParameters().Select(p =>
            $"{(p.IsOut ? "out " : "")}{Name(p.ParameterType)} {p.Name}{(p.HasDefaultValue ? "?" : "")}"));

    private static string TypeParameters(MethodInfo method) =>
        method.IsGenericMethodDefinition ? $"<{string.Join(", ", method.GetGenericArguments().Select(t => t.Name))}>" : "";

    private static string ShortName(Type type) => type.DeclaringType is { } outer ? $"{ShortName(outer)}.{type.Name}" : type.Name;

    private static string Name(Type type)
    {
        if (type.IsByRef) return Name(type.GetElementType()!);
        if (type.IsArray) return Name(type.GetElementType()!) + "[]";
        if (Nullable.GetUnderlyingType(type) is { } value) return Name(value) + "?";
        if (!type.IsGenericType) return type.IsGenericParameter || type.Namespace == "System" ? type.Name
            : $"{type.Namespace}.{ShortName(type)}";
        return $"{type.Name.Split('`')[0]}<{string.Join(", ", type.GetGenericArguments().Select(Name))}>";
    }
}
