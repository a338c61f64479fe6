using AxleTelemetry.Domain.Quantities;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace AxleTelemetry.Service.Serving;

/// <summary>The OpenAPI document: the same wherever it is served from, with the parameters that the addresses themselves check.</summary>
internal static class OpenApiSetup
{
    public static void Configure(OpenApiOptions options)
    {
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new OpenApiInfo { Title = "AxleTelemetry", Version = "v1", Description = "Axle loads of haulage fleets with liftable axles. Masses in kg, times in UTC; every figure with its 95 % interval." };
            document.Servers = [];
            return Task.CompletedTask;
        });
        options.AddOperationTransformer((operation, context, _) =>
        {
            foreach (var parameter in context.Description.ActionDescriptor.EndpointMetadata.OfType<QueryParameters>().SelectMany(p => p.All))
            {
                operation.Parameters ??= [];
                operation.Parameters.Add(new OpenApiParameter
                {
                    Name = parameter.Name, In = ParameterLocation.Query, Description = parameter.Text, Required = parameter.IsRequired, Schema = new OpenApiSchema { Type = JsonSchemaType.String },
                });
            }

            return Task.CompletedTask;
        });
        options.AddSchemaTransformer((schema, context, _) =>
        {
            if (context.JsonTypeInfo.Type != typeof(Moment) && context.JsonTypeInfo.Type != typeof(Moment?)) return Task.CompletedTask;
            (schema.Type, schema.Format, schema.Properties) = (JsonSchemaType.String, "date-time", null);
            return Task.CompletedTask;
        });
    }
}
