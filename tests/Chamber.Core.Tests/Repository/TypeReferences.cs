using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Chamber.Core.Tests.Repository;

/// <summary>Every type that a compiled type mentions: in its signatures, its attributes and its code, the types nested in it
/// included.</summary>
internal static class TypeReferences
{
    public static IEnumerable<TypeReference> Of(TypeDefinition type) =>
        Mentioned(type).SelectMany(Parts).Select(Outermost).DistinctBy(found => found.FullName);

    private static IEnumerable<TypeReference?> Mentioned(TypeDefinition type) =>
    [
        type.BaseType,
        .. type.Interfaces.Select(one => one.InterfaceType),
        .. Attributes(type),
        .. type.Fields.SelectMany(field => Attributes(field).Append(field.FieldType)),
        .. type.Properties.SelectMany(property => Attributes(property).Append(property.PropertyType)),
        .. type.Methods.SelectMany(Mentioned),
        .. type.NestedTypes.SelectMany(Mentioned),
    ];

    private static IEnumerable<TypeReference?> Mentioned(MethodDefinition method) =>
    [
        .. Signature(method),
        .. Attributes(method),
        .. method.HasBody ? Code(method.Body) : [],
    ];

    private static IEnumerable<TypeReference?> Code(MethodBody body) =>
    [
        .. body.Variables.Select(variable => variable.VariableType),
        .. body.ExceptionHandlers.Select(handler => handler.CatchType),
        .. body.Instructions.SelectMany(instruction => instruction.Operand switch
        {
            MethodReference called => Signature(called),
            FieldReference field => [field.DeclaringType, field.FieldType],
            TypeReference named => [named],
            _ => [],
        }),
    ];

    private static IEnumerable<TypeReference?> Signature(MethodReference method) =>
    [
        method.DeclaringType,
        method.ReturnType,
        .. method.Parameters.Select(parameter => parameter.ParameterType),
        .. method is GenericInstanceMethod generic ? generic.GenericArguments : [],
    ];

    private static IEnumerable<TypeReference> Attributes(ICustomAttributeProvider owner) =>
        owner.CustomAttributes.SelectMany(attribute => attribute.ConstructorArguments
            .Select(argument => argument.Value).OfType<TypeReference>().Append(attribute.AttributeType));

    // A list of spots mentions lists and spots; an array of spots mentions spots.
    private static IEnumerable<TypeReference> Parts(TypeReference? type) => type switch
    {
        null or GenericParameter => [],
        GenericInstanceType generic => generic.GenericArguments.SelectMany(Parts).Append(generic.ElementType),
        TypeSpecification made => Parts(made.ElementType),
        _ => [type],
    };

    private static TypeReference Outermost(TypeReference type) => type.DeclaringType is { } outer ? Outermost(outer) : type;
}
