using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Core;
using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;

namespace Chamber.Service.Web.Api;

/// <summary>
/// Turns whatever refuses a request into problem details (RFC 9457): <c>detail</c> is the sentence that the command line would
/// say, <c>errors</c> names the field where one is to blame.
/// </summary>
internal sealed partial class ApiProblems(ILogger<ApiProblems> logger) : IExceptionHandler
{
    public const string ContentType = "application/problem+json";

    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        if (!ApiPath.IsApi(httpContext.Request.Path))
        {
            return false;
        }

        var problem = Of(exception);
        if (problem.Status >= StatusCodes.Status500InternalServerError)
        {
            Log.ApiTrouble(logger, Log.Trace(exception), httpContext.Request.Path, exception.Message);
        }

        await Write(httpContext, problem);
        return true;
    }

    public static Task Write(HttpContext context, ProblemDetails problem)
    {
        problem.Instance = context.Request.Path;
        context.Response.StatusCode = problem.Status ?? StatusCodes.Status500InternalServerError;
        return context.Response.WriteAsJsonAsync(problem, problem.GetType(), options: null, ContentType, context.RequestAborted);
    }

    /// <summary>For an answer that has a status and nothing else.</summary>
    public static Task WriteStatus(StatusCodeContext context) => ApiPath.IsApi(context.HttpContext.Request.Path)
        ? Write(context.HttpContext, Make(context.HttpContext.Response.StatusCode, Sentence(context.HttpContext), null))
        : Task.CompletedTask;

    public static ProblemDetails Make(int status, string sentence, string? field) => Made(status, OneLine.Of(sentence), field);

    private static ProblemDetails Made(int status, string sentence, string? field) => field is null
        ? new ProblemDetails { Type = "about:blank", Title = Title(status), Status = status, Detail = sentence }
        : new HttpValidationProblemDetails(new Dictionary<string, string[]> { [field] = [sentence] }) { Type = "about:blank",
            Title = Title(status), Status = status, Detail = sentence };

    private static ProblemDetails Of(Exception exception) => exception switch
    {
        BadInputException { Kind: BadInputKind.Unknown } problem => Make(StatusCodes.Status404NotFound, problem.Message, problem.Field),
        BadInputException { Kind: BadInputKind.Contradicts } problem => Make(StatusCodes.Status409Conflict, problem.Message, problem.Field),
        BadInputException problem => Make(StatusCodes.Status400BadRequest, problem.Message, problem.Field),
        RefusedException refused => Make(StatusCodes.Status409Conflict, refused.Message, refused.Field),
        FormatException => Make(StatusCodes.Status400BadRequest, exception.Message, null),
        BadHttpRequestException { InnerException: JsonException json } => OfJson(json),
        BadHttpRequestException { StatusCode: StatusCodes.Status400BadRequest } problem => OfParameter(problem),
        BadHttpRequestException { StatusCode: StatusCodes.Status415UnsupportedMediaType } =>
            Make(StatusCodes.Status415UnsupportedMediaType, NotJson, null),
        BadHttpRequestException problem => Make(problem.StatusCode, problem.Message, null),
        StoreException { Fault: StoreFault.Locked or StoreFault.DiskFull } =>
            Make(StatusCodes.Status503ServiceUnavailable, exception.Message, null),
        StoreException => Make(StatusCodes.Status500InternalServerError, exception.Message, null),
        _ => Make(StatusCodes.Status500InternalServerError,
            "Something went wrong inside Chamber; its log says what. Nothing was half-written.", null),
    };

    private static ProblemDetails OfJson(JsonException problem)
    {
        var fault = JsonFault.Of(problem);
        var path = fault.Path;
        var sentence = fault.Kind switch
        {
            JsonFaultKind.Missing => $"{path} is missing.",
            JsonFaultKind.Null => $"{path} cannot be null: give it a value.",
            JsonFaultKind.Unknown => NotKnown(path, fault.Known),
            JsonFaultKind.Twice => $"{path} stands twice: keep one of them.",
            JsonFaultKind.OtherKind => $"{(path.Length == 0 ? "The body" : path)} must be {fault.Words}.",
            JsonFaultKind.Refused when path.Length > 0 && !fault.Words.StartsWith(path, StringComparison.Ordinal) =>
                $"{path}: {fault.Words}",
            JsonFaultKind.Refused => fault.Words,
            _ => "The body is not JSON.",
        };
        return Make(StatusCodes.Status400BadRequest, sentence, path.Length == 0 ? null : path);
    }

    /// <summary>That an operation has no such member or parameter, with those that it may have been.</summary>
    public static string NotKnown(string path, IEnumerable<string> known) =>
        $"{path} is not known here{(NearNames.Question(path[(path.LastIndexOf('.') + 1)..], known) is { Length: > 0 } question
            ? "." + question : "; see /openapi/v1.json.")}";

    private static ProblemDetails OfParameter(BadHttpRequestException problem)
    {
        if (Unbound().Match(problem.Message) is { Success: true } unbound)
        {
            var name = JsonNamingPolicy.CamelCase.ConvertName(unbound.Groups["name"].Value);
            return Make(StatusCodes.Status400BadRequest,
                $"{name}: \"{unbound.Groups["value"].Value}\" is not {Wanted(unbound.Groups["type"].Value)}.", name);
        }

        if (problem.Message.Contains("no body was provided", StringComparison.Ordinal)
            || problem.Message.Contains("from body", StringComparison.Ordinal))
        {
            return Make(StatusCodes.Status400BadRequest,
                "The body is missing: send one JSON object, with Content-Type: application/json.", null);
        }

        return Required().Match(problem.Message) is { Success: true } required
            ? Make(StatusCodes.Status400BadRequest, $"{required.Groups["name"].Value} is missing.", required.Groups["name"].Value)
            : Make(StatusCodes.Status400BadRequest, "The request cannot be read; see /openapi/v1.json.", null);
    }

    private static string Wanted(string type) => type.Contains("bool", StringComparison.OrdinalIgnoreCase) ? "true or false"
        : type.Contains("int", StringComparison.OrdinalIgnoreCase) || type.Contains("long", StringComparison.OrdinalIgnoreCase)
            ? "a whole number"
        : "a number";

    private static string Sentence(HttpContext context) => context.Response.StatusCode switch
    {
        StatusCodes.Status401Unauthorized when AccessModule.ShownToken(context.Request) is not null =>
            "This token is not known here: it was taken back, or is mistyped.",
        StatusCodes.Status401Unauthorized =>
            "Sign in first: POST /api/sign-in with name and password, and keep the cookie; a program shows a token.",
        StatusCodes.Status403Forbidden when context.User.IsInRole(AccessModule.Change) =>
            "Only people let others in, not programs: do it on the page, or sign in.",
        StatusCodes.Status403Forbidden => "You may look here and change nothing.",
        StatusCodes.Status404NotFound => $"There is nothing at {context.Request.Path}; see /openapi/v1.json.",
        StatusCodes.Status405MethodNotAllowed => $"{context.Request.Method} is not for {context.Request.Path}; see /openapi/v1.json.",
        StatusCodes.Status413PayloadTooLarge => "The body is larger than is taken: send less at a time, or a smaller photo.",
        StatusCodes.Status415UnsupportedMediaType => NotJson,
        _ => "This cannot be done.",
    };

    private const string NotJson =
        "The body is not of the right kind: send JSON with Content-Type: application/json, or a photo with that of its image.";

    private static string Title(int status) => Microsoft.AspNetCore.WebUtilities.ReasonPhrases.GetReasonPhrase(status);

    [GeneratedRegex("^Failed to bind parameter \"(?<type>\\S+) (?<name>[^\"]+)\" from \"(?<value>[^\"]*)\"")]
    private static partial Regex Unbound();

    [GeneratedRegex("^Required parameter \"\\S+ (?<name>[^\"]+)\" was not provided")]
    private static partial Regex Required();
}
