using System.Net;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.People;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>Who answers for which fleets, and files of people from before that was kept.</summary>
public sealed class OwnFleetTests
{
    [Fact]
    public async Task Fleets_are_those_of_the_settings_and_none_is_all()
    {
        await using var door = await ServedDoor.OpenAsync();
        await using var scope = door.App.Services.CreateAsyncScope();
        var desk = scope.ServiceProvider.GetRequiredService<PeopleDesk>();
        var own = door.App.Services.GetRequiredService<OwnFleets>();
        Assert.IsType<Done.Link>(await desk.AddAsync("bo", ["controller"]));
        var id = (await desk.ListAsync()).Single().Person.Id;

        Assert.Contains("no fleet east, west", Assert.Single(Assert.IsType<Done.Refused>(await desk.SetFleetsAsync(id, OwnFleets.Read("east north west"), ["north", "south"])).Why), StringComparison.Ordinal);
        Assert.Empty(await own.OfAsync("bo"));
        Assert.IsType<Done.Plain>(await desk.SetFleetsAsync(id, OwnFleets.Read(" north,south ; north"), ["north", "south"]));
        Assert.Equal(["north", "south"], await own.OfAsync("Bo"));
        Assert.Empty(await own.OfAsync("of-viewer (program)"));
        Assert.IsType<Done.Plain>(await desk.SetFleetsAsync(id, OwnFleets.Read(""), ["north"]));
        Assert.Empty(await own.OfAsync("bo"));
        Assert.Equal(2, (await door.EventsAsync()).Count(e => e.What == "fleets_set"));
    }

    [Fact]
    public async Task A_file_of_the_version_before_is_brought_along()
    {
        await using var door = await ServedDoor.OpenAsync();
        using (var ada = await door.AdministratorAsync()) Assert.Equal(HttpStatusCode.OK, (await ada.GoAsync("/now")).Status);
        await RunAsync(door, "ALTER TABLE AspNetUsers DROP COLUMN Fleets; PRAGMA user_version = 1");
        await door.App.Services.GetRequiredService<PeopleFile>().PrepareAsync(TestContext.Current.CancellationToken);
        using var again = door.Browser();
        Assert.Equal(HttpStatusCode.Redirect, (await again.SignInAsync(ServedDoor.Administrator, ServedDoor.Password)).Status);
        Assert.Empty(await door.App.Services.GetRequiredService<OwnFleets>().OfAsync(ServedDoor.Administrator));

        await RunAsync(door, "PRAGMA user_version = 99");
        var refused = await Assert.ThrowsAsync<PeopleFileException>(() => door.App.Services.GetRequiredService<PeopleFile>().PrepareAsync(TestContext.Current.CancellationToken));
        Assert.Contains("version 99", refused.Message, StringComparison.Ordinal);
    }

    private static async Task RunAsync(ServedDoor door, string sql)
    {
        await using var file = new SqliteConnection($"Data Source={PeopleFile.PathIn(door.Configuration.DataDirectory)}");
        await file.OpenAsync(TestContext.Current.CancellationToken);
        await using var command = file.CreateCommand();
        command.CommandText = sql;
        await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
    }
}
