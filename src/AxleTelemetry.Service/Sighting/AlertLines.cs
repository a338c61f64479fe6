using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Contacts;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Sighting;

/// <summary>Open alerts as lines of the list. A line is written once and kept while its alert stays the same: most of them do from one look to the next.</summary>
internal sealed class AlertLines(Desks desks)
{
    private Dictionary<string, (Alert Alert, AlertLine Line)> _written = [];
    private PhoneBook _phones = PhoneBook.Empty;
    private AlertBook?[] _books = new AlertBook?[desks.All.Length];
    private ImmutableArray<AlertLine> _lines = [];

    /// <summary>The lines, most urgent first.</summary>
    public async Task<ImmutableArray<AlertLine>> ReadAsync(CancellationToken cancel)
    {
        var books = new AlertBook[desks.All.Length];
        for (var i = 0; i < books.Length; i++) books[i] = await desks.All[i].AskAsync(s => s.Alerts, cancel);
        var phones = desks.Phones();
        if (!ReferenceEquals(phones, _phones)) (_written, _books, _phones) = ([], new AlertBook?[desks.All.Length], phones);
        if (books.Zip(_books).All(b => ReferenceEquals(b.First.Vehicles, b.Second?.Vehicles))) return _lines;
        var open = AlertOrder.MostUrgentFirst(books.SelectMany(b => b.Alerts).Where(a => a.State.IsOpen)).ToImmutableArray();
        var states = await StatesAsync(open.Where(a => !IsWritten(a)), cancel);
        var written = new Dictionary<string, (Alert, AlertLine)>(open.Length);
        foreach (var alert in open)
        {
            var id = alert.Id.ToString();
            written[id] = IsWritten(alert) ? _written[id] : (alert, Line(desks, alert, states.GetValueOrDefault(alert.Id.Vehicle), _phones));
        }

        _written = written;
        _books = books;
        return _lines = [.. open.Select(a => written[a.Id.ToString()].Item2)];
    }

    private bool IsWritten(Alert alert) => _written.TryGetValue(alert.Id.ToString(), out var before) && ReferenceEquals(before.Alert, alert);

    private async Task<Dictionary<VehicleName, VehicleState>> StatesAsync(IEnumerable<Alert> alerts, CancellationToken cancel)
    {
        var vehicles = alerts.Select(a => a.Id.Vehicle).Distinct().Select(v => (Desk: desks.Find(v.Fleet), v)).Where(p => p.Desk is not null).Select(p => (p.Desk!, p.v));
        return (await FleetAsking.StatesAsync(vehicles, cancel)).ToDictionary(s => s.Name);
    }

    /// <summary>Open alerts of one vehicle, most urgent first.</summary>
    public static ImmutableArray<AlertLine> Of(Desks desks, AlertBook book, VehicleState state) =>
        [.. AlertOrder.MostUrgentFirst(book.Vehicles.TryGetValue(state.Name, out var own) ? own.Alerts.Where(a => a.State.IsOpen) : []).Select(a => Line(desks, a, state, desks.Phones()))];

    private static AlertLine Line(Desks desks, Alert alert, VehicleState? state, PhoneBook phones)
    {
        var document = AlertDocument.Of(alert, state?.View?.Combination);
        var told = alert.Holds && desks.Find(alert.Id.Vehicle.Fleet) is { } desk ? AlertRoutes.LastTold(desk, alert.Id) : null;
        return new AlertLine
        {
            Id = document.Id,
            Vehicle = alert.Id.Vehicle,
            Plate = state?.Description.Plate ?? "",
            About = document.About,
            Sentence = told is null ? document.Sentence : told.Remedy is { } end ? told.Sentence[..^end.Length].TrimEnd() : told.Sentence,
            Remedy = told?.Remedy,
            State = alert.State,
            Priority = alert.Priority,
            Level = LevelOf(alert),
            Holds = alert.Holds,
            // Of what is over the room to spare of now would be told as if it were the overload.
            Figures = alert.Holds ? alert.Figures : null,
            Since = alert.Episodes.Min(e => e.Since),
            Ended = alert.Ended,
            KnownAt = alert.KnownAt,
            Count = alert.Count,
            Owes = alert.Owes,
            Escalated = alert.Escalated,
            With = document.With,
            Notes = alert.Notes,
            Contacts = alert.Contacts,
            Telephone = phones.Of(alert.Id.Vehicle) is { } contact ? new Telephone(contact.Telephone, contact.Whose, contact.Language) : null,
        };
    }

    private static Level LevelOf(Alert alert) => alert.Holds ? alert.Episodes.Where(e => e.Holds).Max(e => e.Level) : alert.Episodes.Max(e => e.Highest);
}
