using System.Collections.Immutable;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>The fields of one stream, found by name without allocation.</summary>
internal sealed class StreamFields
{
    private readonly FieldTable message;
    private readonly FieldTable sample;

    public StreamFields(ImmutableArray<ContractField> all)
    {
        All = all;
        message = new FieldTable(all.Where(field => field.Level == FieldLevel.Message));
        sample = new FieldTable(all.Where(field => field.Level == FieldLevel.Sample));
    }

    public ImmutableArray<ContractField> All { get; }

    public bool HasSamples => sample.Count > 0;

    /// <summary>A field of the message, <c>null</c> when the contract has none of this name.</summary>
    public ContractField? OfMessage(ReadOnlySpan<byte> name) => message.Find(name);

    /// <summary>A field of a sample, <c>null</c> when the contract has none of this name.</summary>
    public ContractField? OfSample(ReadOnlySpan<byte> name) => sample.Find(name);

    private sealed class FieldTable
    {
        private readonly ContractField[] fields;
        private readonly NameTable names;

        public FieldTable(IEnumerable<ContractField> fields)
        {
            this.fields = [.. fields];
            names = new NameTable(this.fields.Select(field => field.Name));
        }

        public int Count => fields.Length;

        public ContractField? Find(ReadOnlySpan<byte> name)
        {
            var index = names.Find(name);
            return index < 0 ? null : fields[index];
        }
    }
}
